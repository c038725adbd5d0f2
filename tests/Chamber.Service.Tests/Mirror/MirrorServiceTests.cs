using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Chamber.Storage;
using Chamber.Testing;

namespace Chamber.Service.Tests.Mirror;

/// <summary>The built program with a mirror, a real broker client and a real server. Readings, times and counts are invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class MirrorServiceTests : IDisposable
{
    private const int Kills = 4;
    private const int BetweenKills = 150;

    private readonly TempFolder folder = new();
    private readonly int port = FreePort.Next();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task Killed_in_mid_stream_the_service_mirrors_every_reading_once()
    {
        await using var database = await VictoriaMetrics.Start();
        await using var wire = new SlowWire(database.Port);
        wire.Slow(400);
        WriteSettings(wire.Url);
        var start = DateTimeOffset.FromUnixTimeSeconds(TimeProvider.System.GetUtcNow().ToUnixTimeSeconds() - 3600);
        var number = 0;
        for (var kill = 0; kill < Kills; kill++)
        {
            await using var service = await Started();
            await Publish(Enumerable.Range(number, BetweenKills).Select(each => Message(start, each)));
            number += BetweenKills;
            await service.Kill();
        }

        await using var last = await Started();
        var stored = await UntilAllAreThere(database, number);
        Assert.Equal(
            Enumerable.Range(0, number).Select(each => (start.AddSeconds(each).ToUnixTimeMilliseconds(), Math.Round(20 + each / 100.0, 6))),
            stored.Samples.Select(sample => (sample.Item1, Math.Round(sample.Item2, 6))));
    }

    [Fact]
    public async Task A_server_that_never_answers_holds_up_no_reading_and_no_stop()
    {
        using var deaf = new TcpListener(IPAddress.Loopback, 0);
        deaf.Start();
        WriteSettings($"http://127.0.0.1:{((IPEndPoint)deaf.LocalEndpoint).Port}");
        await using var service = await Started();
        var start = DateTimeOffset.FromUnixTimeSeconds(TimeProvider.System.GetUtcNow().ToUnixTimeSeconds() - 3600);
        await Publish([Message(start, 0)]);
        using var caller = await deaf.AcceptTcpClientAsync(TestContext.Current.CancellationToken);

        // Each is acknowledged once it is stored; the publisher ends when all are.
        await Publish(Enumerable.Range(1, 500).Select(each => Message(start, each)));
        service.AskToStop();
        Assert.Equal(0, (await service.End()).ExitCode);

        using var store = ChamberStore.Open(folder.File("chamber.db"));
        Assert.Equal(501, store.Journal.Size().Readings);
    }

    private void WriteSettings(string url) => folder.Write(
        "chamber.json",
        $$"""{ "broker": { "listen": [{ "port": {{port}} }] }, "page": { "on": false }, "mirror": { "url": "{{url}}", "every": "1s", "batchLines": 20 } }""");

    private async Task<RunningProgram> Started()
    {
        var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");
        return service;
    }

    private async Task Publish(IEnumerable<string> payloads) => (await RunningProgram.Run(
        "mosquitto_pub", ["-h", "127.0.0.1", "-p", port.ToString(CultureInfo.InvariantCulture), "-q", "1", "-t", "chamber/p1/reading",
            "-l"], string.Join('\n', payloads) + "\n")).Succeeded();

    private static string Message(DateTimeOffset start, int number) =>
        string.Create(CultureInfo.InvariantCulture,
            $$"""{ "temperature": {{20 + number / 100.0}}, "at": "{{start.AddSeconds(number):yyyy-MM-ddTHH:mm:ssZ}}" }""");

    private static Task<StoredSeries> UntilAllAreThere(VictoriaMetrics database, int count) =>
        Wait.Until($"{count} readings in the other server", async () =>
            await database.Export("chamber_reading_temperature_celsius") is [var only] && only.Samples.Count >= count ? only : null);
}
