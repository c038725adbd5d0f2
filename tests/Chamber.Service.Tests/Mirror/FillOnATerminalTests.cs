using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Mirror;

/// <summary>The first filling of a mirror, as somebody sees it who types it: the built program on a pseudo-terminal, a real server. Widths
/// and percents are the program's own.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class FillOnATerminalTests : IDisposable
{
    private const int Readings = 30_000;

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData(80)]
    [InlineData(40)]
    public async Task The_bars_grow_from_nothing_to_the_end_and_leave_only_the_answer_behind(int columns)
    {
        await using var server = await VictoriaMetrics.Start();
        Furnish(server.Url);

        var seen = await Terminal.Run(columns, ChamberProcess.Program, "mirror", "fill", "--data", folder.Path);

        Assert.Equal((0, true, 0), (seen.ExitCode, seen.HasCursor, seen.Wrapped));
        var readings = Shares(seen, "Readings");
        var hours = Shares(seen, "Warm-hours, forecasts");
        Assert.Equal((0, 100, 0, 100), (readings[0], readings[^1], hours[0], hours[^1]));
        Assert.Equal(readings.Order(), readings);
        Assert.Equal(hours.Order(), hours);
        Assert.Contains(readings, share => share is > 0 and < 100);

        // While something is still to be sent, one of the two says so.
        Assert.All(hours.Take(readings.IndexOf(100)), share => Assert.Equal(0, share));
        Assert.Equal(
            $"The copy at {server.Url} home/chamber is up to date. 30,",
            string.Join(' ', seen.Screen.Split('\n', StringSplitOptions.TrimEntries))[..(
                $"The copy at {server.Url} home/chamber is up to date. 30,".Length)]);
        Assert.EndsWith("It stays so while the service runs.", seen.Screen, StringComparison.Ordinal);
        Assert.DoesNotContain("%", seen.Screen, StringComparison.Ordinal);
        Assert.Equal(Readings, (await server.Export("chamber_reading_temperature_celsius")).Sum(series => series.Samples.Count));
    }

    [Fact]
    public async Task A_server_that_goes_away_ends_the_bars_and_leaves_one_sentence()
    {
        var requests = 0;
        await using var peer = await WritePeer.Start(
            _ => new(++requests <= 20 ? HttpStatusCode.NoContent : HttpStatusCode.ServiceUnavailable));
        Furnish(peer.Url);

        var seen = await Terminal.Run(80, ChamberProcess.Program, "mirror", "fill", "--data", folder.Path);

        Assert.Equal((1, true), (seen.ExitCode, seen.HasCursor));
        Assert.StartsWith("chamber: The copy could not be filled:", seen.Screen, StringComparison.Ordinal);
        var text = string.Join(' ', seen.Screen.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        Assert.EndsWith("run it again to go on from there.", text, StringComparison.Ordinal);
        Assert.DoesNotContain("%", seen.Screen, StringComparison.Ordinal);
    }

    private void Furnish(string url)
    {
        folder.Write("chamber.json", $$"""{ "home": { "zone": "UTC" }, "mirror": { "url": "{{url}}", "batchLines": 200 } }""");
        var now = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());
        var (probe, shelf) = (new ProbeId("p1"), new SpotId("shelf"));
        using var store = ChamberStore.Open(folder.File("chamber.db"));
        store.Ledger.SetUp.Save(new Spot(shelf, SpotKind.Shelf, LightLevel.Dim, 4));
        store.Ledger.SetUp.Save(new ProbeEntry(new(probe, Measurand.Media, Probe.DefaultMaxGap)));
        store.Ledger.SetUp.Put(probe, shelf, now - Duration.FromDays(21));
        store.Ledger.Batches.Sow(new Batch(new("T1"), new("tomato"), null, SowingMethod.CoveredMix, now - Duration.FromDays(3), 12,
            [new Stay(shelf, new(now - Duration.FromDays(3), null))], []));
        store.Journal.Append([.. Enumerable.Range(0, Readings).Select(minute => now - Duration.FromMinutes(Readings - minute))
            .Select(at => new Reading(probe, at, at, Temperature.FromCelsius(22)))], []);
    }

    private static List<int> Shares(Terminal seen, string bar) =>
        [.. seen.Frames.Select(frame => Regex.Match(frame, Regex.Escape(bar) + " .*?(?<share>[0-9]+)%")).Where(match => match.Success)
            .Select(match => int.Parse(match.Groups["share"].Value, CultureInfo.InvariantCulture))];
}
