using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Core.Tests.Facts;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>A watch that was told of a home fact by fact, with slips, corrections and withdrawals, says what one says that is told of it
/// only now. Homes and readings are drawn from a seed.</summary>
public sealed class AmendedWatchTests
{
    private readonly List<Reading> journal = [];

    public static TheoryData<int> Seeds => [.. Enumerable.Range(1, 10)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void A_watch_told_of_slips_says_what_one_says_that_never_heard_them(int seed)
    {
        var (random, home) = (new Random(seed), new SomeHome(new(seed)));
        var (log, watch, amended) = (FactLog.Of([]), new HomeWatch(new()), 0);
        for (var tries = 0; tries < 160; tries++)
        {
            var fact = home.Next();
            Measure(random, home.Now, watch);
            if (AmendedHomeTests.With(log, [fact]) is { } next)
            {
                Tell(watch, log = next, home.Now);
            }

            if (random.Next(5) == 0 && Amended(random, home, log) is { } right)
            {
                Tell(watch, log = right, home.Now);
                amended++;
            }
        }

        var now = home.Now + Duration.FromHours(6);
        Hear(watch, watch.Step(now), now);
        var fresh = new HomeWatch(FactsOf(log));
        Hear(fresh, fresh.Step([.. journal.OrderBy(reading => reading.MeasuredAt)], now), now);
        Hear(fresh, fresh.Step(now), now);
        Assert.True(amended > 5, $"{amended} amendments");
        Assert.Contains(fresh.Folded(), alert => !alert.IsOpen);
        Assert.Equal(Text(fresh), Text(watch));
    }

    [Fact]
    public void What_still_arrives_of_readings_set_aside_counts_only_as_having_spoken()
    {
        var (spot, probe, start) = (new SpotSetUp(new("mat")), new ProbeId("soil"), SomeHome.Start);
        var log = AmendedHomeTests.With(FactLog.Of([]),
            [spot.At(start), new ProbeSetUp(probe, Measurand.Media).At(start), new ProbePlaced(probe, spot.Spot).At(start)])!;
        var watch = new HomeWatch(FactsOf(log));
        for (var minutes = 0; minutes < 600; minutes += 10)
        {
            var at = start + Duration.FromMinutes(minutes);
            journal.Add(new(probe, at, at, Temperature.FromCelsius(minutes < 200 ? 24 : 56)));
            Hear(watch, watch.Step([journal[^1]], at), at);
        }

        var now = start + Duration.FromMinutes(595);
        Assert.Equal([AlertKind.Hazard], watch.Open().Select(alert => alert.Kind));

        // Up to some time ahead: what still comes is passed over too, and the probe is not silent.
        log = AmendedHomeTests.With(log, [new ReadingsSetAside(probe, now + Duration.FromDays(1)).At(start + Duration.FromMinutes(195))])!;
        Tell(watch, log, now);
        Assert.Empty(watch.Open());
        Hear(watch, watch.Step([journal[^1] with { MeasuredAt = now }], now), now);
        Hear(watch, watch.Step(now + Duration.FromMinutes(100)), now);
        Assert.Empty(watch.Open());

        Tell(watch, AmendedHomeTests.With(log, [new Withdrawn(4).At(now)])!, now);
        Assert.Equal([AlertKind.Hazard], watch.Open().Select(alert => alert.Kind));
    }

    private static FactLog? Amended(Random random, SomeHome home, FactLog log)
    {
        var standing = log.Entries
            .Where(entry => entry.Fact is not (Withdrawn or Corrected) && !log.TakenBack.Contains(entry.Number)).ToList();
        if (standing.Count == 0)
        {
            return null;
        }

        var entry = standing[random.Next(standing.Count)];
        var slip = home.Slip(log.RightOf(entry));
        return AmendedHomeTests.With(log, [random.Next(2) == 0
            ? new Withdrawn(entry.Number).At(home.Now)
            : new Corrected(entry.Number, slip.Fact).At(slip.At)]);
    }

    // Three probes, one of them with hours of silence, that go from cold to hot and back.
    private void Measure(Random random, Instant until, HomeWatch watch)
    {
        var from = journal.Count == 0 ? SomeHome.Start : journal.Max(reading => reading.MeasuredAt) + Duration.FromMinutes(30);
        List<Reading> added = [];
        for (var at = from; at <= until; at += Duration.FromMinutes(30))
        {
            foreach (var (probe, level) in new[] { ("probe-0", 22.0), ("probe-1", 34.0), ("probe-2", 12.0) })
            {
                var hours = (at - SomeHome.Start).TotalHours;
                if (probe != "probe-2" || hours % 40 > 12)
                {
                    added.Add(new(new(probe), at, at, Temperature.FromCelsius(level + 9 * Math.Sin(hours / 11) + random.NextDouble()),
                        RelativeHumidity.FromPercent(70 + 25 * Math.Sin(hours / 23))));
                }
            }
        }

        journal.AddRange(added);
        Hear(watch, watch.Step(added, until), until);
    }

    private void Tell(HomeWatch watch, FactLog log, Instant now) => Hear(watch, watch.Step(FactsOf(log), now), now);

    private static HomeFacts FactsOf(FactLog log) => HomeFacts.Of(log.Home.ToParts(), CropCatalog.Shipped.Find);

    private void Hear(HomeWatch watch, IReadOnlyList<WatchEvent> events, Instant now)
    {
        foreach (var request in events.OfType<RefoldNeeded>())
        {
            Hear(watch, watch.Refold(request,
                (probe, from) => journal.Where(reading => reading.Probe == probe && (from is null || reading.MeasuredAt >= from))
                    .OrderBy(reading => reading.MeasuredAt), now), now);
        }
    }

    private static string Text(HomeWatch watch) => string.Join(Environment.NewLine, watch.Folded().Select(alert =>
        $"{alert.Kind} {alert.Subject} {alert.Severity} {alert.Since} {alert.OpenedAt} {alert.ClosedAt} {alert.CloseReason} "
        + string.Join(' ', alert.Evidence.Figures.Select(figure => $"{figure.Name}={figure.Value:0.######}")))
        .Order(StringComparer.Ordinal));
}
