using System.Net;
using System.Net.Sockets;
using System.Text.RegularExpressions;
using Chamber.Club.Tests.Homes;
using Chamber.Testing;

namespace Chamber.Club.Tests.Demo;

/// <summary>The demo as somebody new to it types it, with few homes.</summary>
public sealed partial class DemoTests
{
    [Fact]
    public async Task A_demo_shows_a_club_that_can_be_asked_and_leaves_nothing_behind()
    {
        await using var demo = RunningProgram.Start(SiloProcess.Club, ["demo", "--homes", "2"]);
        await demo.Line("Ctrl-C ends the demo");
        var folder = Folder().Match(demo.Output).Groups[1].Value;
        Assert.True(Directory.Exists(folder));
        Assert.Contains("2 of 2 homes", demo.Output, StringComparison.Ordinal);

        // The lines that it offers, as they stand.
        await RunLine(demo, "mosquitto_pub");
        await demo.Line("hazard, plain-mat");
        var shown = (await RunLine(demo, "home show")).Succeeded();
        Assert.Contains("plain-mat: ", shown, StringComparison.Ordinal);
        Assert.Contains(" °C at ", shown, StringComparison.Ordinal);

        demo.PressControlC();
        var ended = await demo.End();
        Assert.True(ended.ExitCode == 0, ended.Errors + ended.Output);
        Assert.False(Directory.Exists(folder));
        Assert.DoesNotContain(Directory.GetDirectories("/proc"),
            process => CommandOf(process).Contains(folder, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_port_that_is_taken_is_named_before_homes_are_made()
    {
        using var taken = new TcpListener(IPAddress.Loopback, 0);
        taken.Start();
        var port = $"{((IPEndPoint)taken.LocalEndpoint).Port}";

        var ended = await RunningProgram.Run(SiloProcess.Club, ["demo", "--page-port", port]);

        Assert.Equal((2, ""), (ended.ExitCode, ended.Output));
        Assert.Contains($"Port {port} is not free", ended.Errors, StringComparison.Ordinal);
    }

    private static async Task<ProgramResult> RunLine(RunningProgram demo, string text)
    {
        var lines = demo.Output.Split('\n');
        var address = lines.Single(line => line.Contains("export CHAMBER_CLUB_DATABASE", StringComparison.Ordinal));
        return await RunningProgram.Run("sh", ["-c", address + "\n" + lines.First(line => line.Contains(text, StringComparison.Ordinal))]);
    }

    private static string CommandOf(string process)
    {
        try
        {
            return File.ReadAllText(Path.Combine(process, "cmdline"));
        }
        catch (Exception gone) when (gone is IOException or UnauthorizedAccessException)
        {
            return "";
        }
    }

    [GeneratedRegex(@"All they keep is in (\S+)\.")]
    private static partial Regex Folder();
}
