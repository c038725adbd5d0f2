using System.Net;
using System.Text.Json;
using Chamber.Service.Tests.Mirror;
using Chamber.Testing;

namespace Chamber.Service.Tests.Demo;

/// <summary>The demo as a visitor runs it: the built program, its own broker, real messages. Bounds are the program's own.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class DemoRunTests
{
    [Fact]
    public async Task A_visitor_sees_a_home_whose_past_goes_on_and_leaves_nothing_behind()
    {
        await using var demo = ChamberProcess.Start("demo", "--speed", "600", "--seed", "3");
        var data = (await demo.Line("chamber alerts --data")).Split("--data ")[1].Trim();
        await demo.Line("Watching 6 spots");

        // Of two weeks at once the log says what is still open, and of the rest how many; only a danger that is over is told whole, and
        // whether the sill in the sun had one depends on the day.
        await demo.Line(" of the time before. All: chamber alerts --all");
        var past = demo.Output[..demo.Output.IndexOf("Watching 6 spots", StringComparison.Ordinal)].Split('\n');
        Assert.All(past.Where(line => line.Contains(": closed (", StringComparison.Ordinal)),
            line => Assert.Matches("Heat that harms seed|Danger", line));
        await demo.Line("Nothing heard from sill-air");

        var batches = await Answer("batches", "--data", data);
        var spots = (await Answer("spots", "--crop", "basil", "--data", data)).ToString();
        var alerts = (await Answer("alerts", "--data", data)).ToString();
        var first = await Newest(data, null);
        var later = await Newest(data, first);

        Assert.Equal(9, batches.GetArrayLength());
        Assert.True(spots.IndexOf("thermostat-mat", StringComparison.Ordinal) < spots.IndexOf("freezer-top", StringComparison.Ordinal));
        Assert.Contains("sill-air", alerts, StringComparison.Ordinal);
        Assert.True(later > first);
        demo.PressControlC();
        Assert.Equal(0, (await demo.End()).ExitCode);
        Assert.DoesNotContain("Exception", demo.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("stands still", demo.Output, StringComparison.Ordinal);
        Assert.False(Directory.Exists(data));
    }

    [Fact]
    public async Task The_environment_decides_about_all_of_a_demo_but_its_broker()
    {
        await using var peer = await WritePeer.Start(_ => new(HttpStatusCode.NoContent));
        var (page, broker) = (FreePort.Next(), FreePort.Next());
        var environment = new Dictionary<string, string?>
        {
            ["CHAMBER_MIRROR__URL"] = peer.Url, ["CHAMBER_MIRROR__EVERY"] = "1min", ["CHAMBER_MIRROR__HOME"] = "invented flat",
            ["CHAMBER_TELEMETRY__PROMETHEUS"] = "true", ["CHAMBER_PAGE__PORT"] = "1",
            ["CHAMBER_BROKER__OWN"] = "false", ["CHAMBER_BROKER__HOST"] = "192.0.2.1",
        };
        await using var demo = ChamberProcess.Start(environment, "demo", "--page-port", $"{page}", "--broker-port", $"{broker}");
        await demo.Line("Watching 6 spots");

        using var http = new HttpClient();
        Assert.Contains("chamber_build_info{", await http.GetStringAsync(new Uri($"http://127.0.0.1:{page}/metrics"),
            TestContext.Current.CancellationToken), StringComparison.Ordinal);
        await Wait.Until("the demo's readings in its mirror", () => Task.FromResult(peer.Taken.Count > 0 ? demo : null));
        Assert.All(peer.Taken.ToArray(), line => Assert.Contains(@",home=invented\ flat,", line, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_variable_that_cannot_be_is_refused_by_its_name()
    {
        await using var demo = ChamberProcess.Start(new Dictionary<string, string?> { ["CHAMBER_MIRROR__EVERY"] = "7" }, "demo");
        var refused = await demo.End();
        Assert.Equal(2, refused.ExitCode);
        Assert.StartsWith("chamber: CHAMBER_MIRROR__EVERY: mirror.every", Assert.Single(refused.Errors.Trim().Split('\n')),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task It_writes_over_nothing()
    {
        using var home = new TempFolder();
        home.Write("chamber.json", "{}");

        var refused = await ChamberProcess.Run("demo", "--data", home.Path);

        Assert.Equal(2, refused.ExitCode);
        Assert.Equal($"chamber: --data {home.Path} is not empty, and the demo writes over nothing: name a new directory, or leave --data "
            + $"out.", refused.Errors.Trim());
        Assert.Single(Directory.EnumerateFileSystemEntries(home.Path));
    }

    [Fact]
    public async Task A_speed_out_of_range_is_said_so()
    {
        var refused = await ChamberProcess.Run("demo", "--speed", "0.5");

        Assert.Equal(2, refused.ExitCode);
        Assert.Equal("chamber: 0.5 is outside 1 to 600 for how fast the demo runs: write how many of its seconds pass in one of yours.",
            refused.Errors.Trim());
    }

    // Asks again until the home has gone on: each question takes a process, and each process some minutes there.
    private static async Task<DateTimeOffset> Newest(string data, DateTimeOffset? after)
    {
        var newest = default(DateTimeOffset);
        await Wait.Until("a newer reading", async () =>
        {
            var probes = await Answer("probes", "--data", data);
            newest = probes.EnumerateArray().Max(probe => probe.GetProperty("at").GetDateTimeOffset());
            return after is null || newest > after ? data : null;
        });
        return newest;
    }

    private static async Task<JsonElement> Answer(params string[] arguments) =>
        JsonDocument.Parse((await ChamberProcess.Run([.. arguments, "--json"])).Succeeded()).RootElement;
}
