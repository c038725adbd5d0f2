using System.Globalization;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Scripts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>
/// Random readings and refusals of known and unknown probes, out of order and at any value: nothing throws, all is bounded, and the
/// counter adds up. CHAMBER_FUZZ sets how many. Its numbers are invented.
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class FoldFuzzTests
{
    private const int Seed = 1954;
    private const int Probes = 400;
    private const int KeptMax = 300;

    private static readonly int Count = int.Parse(Environment.GetEnvironmentVariable("CHAMBER_FUZZ") ?? "100000",
        CultureInfo.InvariantCulture);

    private readonly Random random = new(Seed);
    private readonly Dictionary<ProbeId, List<Reading>> journal = [];
    private readonly HashSet<ProbeId> strangers = [];
    private readonly HomeWatch watch = new(WatchScript.Parse("home", Home).Facts);
    private Instant now;
    private long refused;

    private const string Home = """
        crop tomato base 7.6 best 25 to 29 ceiling 40 cool 16.1 hot 30.6 stand 20=98 25=97 30=83 35=46
        spot mat is a heat mat, dark
        spot sill is a sill, bright
        probe p0 measures media on mat, silent after 1 h
        probe p1 measures air on mat
        probe p2 measures air on sill
        sow T1: 12 tomato in covered mix on mat
        day 2 06:00: move T1 to sill
        day 3 07:00: look at T1, 4 up
        """;

    [Fact]
    public void Nothing_throws_all_is_bounded_and_the_counter_adds_up()
    {
        now = WatchScript.Parse("home", Home).Facts.Stations[0].When.Start;
        for (var done = 0; done < Count; done += 100)
        {
            now += Duration.FromMinutes(random.Next(1, 120));
            Hear(watch.Step([.. Enumerable.Range(0, 100).Select(_ => Wild())], now));
            Hear(watch.Step([.. Enumerable.Range(0, 3).Select(_ => Refused())], now));
            Hear(watch.Step(now));
        }

        Assert.Equal(refused, watch.NotWatched);
        Assert.Equal(HomeWatch.StrangerMax, strangers.Count);
        Assert.InRange(watch.Alerts().Count, 1, 70 * (HomeWatch.StrangerMax + 5));
    }

    private Reading Wild()
    {
        var probe = new ProbeId($"p{(random.Next(2) == 0 ? random.Next(3) : random.Next(Probes))}");
        var number = int.Parse(probe.Text[1..], CultureInfo.InvariantCulture);
        if (number > 2 && !strangers.Contains(probe))
        {
            refused += strangers.Count < HomeWatch.StrangerMax && strangers.Add(probe) ? 0 : 1;
        }

        var at = random.Next(50) == 0 ? now - Duration.FromHours(random.Next(1, 2000)) : now - Duration.FromSeconds(random.Next(600));
        var reading = new Reading(
            probe, at, now,
            random.Next(9) == 0 ? null
                : Temperature.FromCelsius(random.Next(30) == 0 ? random.NextDouble() * 400 - 200 : 15 + 20 * random.NextDouble()),
            random.Next(2) == 0 ? RelativeHumidity.FromPercent(random.Next(101)) : null,
            random.Next(3) == 0 ? random.Next(-1000, 5000) : null,
            random.Next(3) == 0 ? random.Next(101) : null);
        if (!journal.TryGetValue(probe, out var kept))
        {
            journal[probe] = kept = [];
        }

        kept.Add(reading);
        if (kept.Count > 2 * KeptMax)
        {
            kept.RemoveRange(0, KeptMax);
        }

        return reading;
    }

    private Refusal Refused() => new(
        now, "chamber/x/reading", new ProbeId($"p{random.Next(1000)}"), "temperature",
            (RefusalReason)random.Next(Enum.GetValues<RefusalReason>().Length), "85", "Check it.");

    private void Hear(IReadOnlyList<WatchEvent> events)
    {
        foreach (var late in events.OfType<RefoldNeeded>())
        {
            Hear(watch.Refold(late, (probe, from) => journal.GetValueOrDefault(probe, [])
                .Where(reading => from is null || reading.MeasuredAt >= from).OrderBy(reading => reading.MeasuredAt), now));
        }
    }
}
