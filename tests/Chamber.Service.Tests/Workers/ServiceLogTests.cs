using System.Net;
using System.Text.Json;
using Chamber.Service.Tests.Mirror;
using Chamber.Testing;

namespace Chamber.Service.Tests.Workers;

/// <summary>What the running service writes, and what it never writes. Numbers of events are the program's own.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class ServiceLogTests : IDisposable
{
    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task No_secret_is_ever_written_even_when_every_server_refuses_it(bool json)
    {
        string[] secrets = ["s3cret-of-the-broker", "s3cret-of-the-mirror", "s3cret-of-the-scraper", "s3cret-of-the-webhook",
            "s3cret-of-the-mail"];
        await using var broker = await Mosquitto.Start(_ => ["allow_anonymous false"]);
        await using var refusing = await WritePeer.Start(_ => new(HttpStatusCode.Unauthorized));
        folder.Write("chamber.json", $$"""
            {
              "broker": { "own": false, "host": "127.0.0.1", "port": {{broker.Port}}, "user": "u", "password": "{{secrets[0]}}" },
              "page": { "port": {{FreePort.Next()}} },
              "mirror": { "url": "{{refusing.Url}}", "token": "{{secrets[1]}}" },
              "telemetry": { "token": "{{secrets[2]}}", "otlp": "{{refusing.Url}}", "every": "1s" },
              "notices": {
                "webhook": { "url": "{{refusing.Url}}/hook", "secret": "{{secrets[3]}}" },
                "email": { "host": "127.0.0.1", "port": {{FreePort.Next()}}, "from": "a@example.org", "to": ["b@example.org"], "user": "u", "password": "{{secrets[4]}}" }
              }
            }
            """);
        (await ChamberProcess.Run("spot", "add", "shelf", "--data", folder.Path)).Succeeded();
        await using var service = ChamberProcess.Start([.. (string[])["run", "--data", folder.Path], .. json ? (string[])["--json"] : []]);
        await service.Line("Chamber is ready");
        (await ChamberProcess.Run("read", "shelf", "52C", "--sure", "--data", folder.Path)).Succeeded();
        await service.Line("does not let us in");
        await service.Line("notice");
        await service.Line("Danger");
        service.AskToStop();
        var ended = await service.End();

        var written = ended.Output + ended.Errors + string.Concat(Directory.EnumerateFiles(folder.File("logs")).Select(File.ReadAllText));
        Assert.All(secrets, secret => Assert.DoesNotContain(secret, written, StringComparison.Ordinal));
        Assert.Contains(secrets[1], string.Concat(refusing.Requests.Select(request => request.Authorization)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_file_has_one_JSON_object_a_line_with_message_number_and_values()
    {
        folder.Write("chamber.json", $$"""{ "broker": { "listen": [{ "port": {{FreePort.Next()}} }] }, "page": { "on": false } }""");
        await using var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");
        service.AskToStop();
        await service.End();

        var lines = (await File.ReadAllLinesAsync(Assert.Single(Directory.EnumerateFiles(folder.File("logs"))),
            TestContext.Current.CancellationToken)).Select(line => JsonDocument.Parse(line).RootElement).ToList();
        var ready = lines.Single(line => line.GetProperty("@m").GetString()!.Contains("Chamber is ready", StringComparison.Ordinal));
        Assert.Equal(folder.Path, ready.GetProperty("Directory").GetString());
        Assert.Equal(3000, ready.GetProperty("EventId").GetProperty("Id").GetInt32());
    }

    [Fact]
    public async Task Where_the_console_is_the_journal_each_line_begins_with_its_priority()
    {
        folder.Write("chamber.json",
            $$"""{ "broker": { "listen": [{ "address": "0.0.0.0", "port": {{FreePort.Next()}} }] }, "page": { "on": false } }""");

        // A socket for a console, named in the variable as systemd does; the second time the variable names another.
        const string Run = """
            import os, signal, socket, subprocess, sys
            ours, theirs = socket.socketpair()
            st = os.fstat(theirs.fileno())
            env = dict(os.environ, JOURNAL_STREAM=f"{st.st_dev}:{st.st_ino + int(sys.argv[3])}")
            child = subprocess.Popen([sys.argv[1], "run", "--data", sys.argv[2]], stdout=theirs, stdin=subprocess.DEVNULL, env=env)
            theirs.close()
            text = b""
            while b"Chamber is ready" not in text:
                part = ours.recv(4096)
                if not part: break
                text += part
            child.send_signal(signal.SIGTERM)
            while True:
                part = ours.recv(4096)
                if not part: break
                text += part
            child.wait()
            print(text.decode())
            """;
        var journal = (await RunningProgram.Run("/usr/bin/python3", ["-c", Run, ChamberProcess.Program, folder.Path, "0"])).Succeeded();
        var plain = (await RunningProgram.Run("/usr/bin/python3", ["-c", Run, ChamberProcess.Program, folder.Path, "1"])).Succeeded();

        Assert.All(journal.Split('\n', StringSplitOptions.RemoveEmptyEntries), line => Assert.Matches("^<[2-7]>", line));
        Assert.Contains("<4>The broker listens beyond this machine", journal, StringComparison.Ordinal);
        Assert.Contains("<6>Chamber is ready", journal, StringComparison.Ordinal);
        Assert.DoesNotContain("<6>", plain, StringComparison.Ordinal);
    }
}
