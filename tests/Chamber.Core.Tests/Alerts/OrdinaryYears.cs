using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Simulation;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>
/// Two years of the simulated flat with an ordinary grower, invented: in March to May and in September something is sown on four spots each
/// month, looked at on the ninth day, uncovered and brought to the light a day later (every third batch three days later), and ended after
/// 30 days. A lone wild value in 50,000, humidity in whole percent, a battery that runs out for two days each spring, and the broker away
/// for an hour each quarter.
/// </summary>
internal static class OrdinaryYears
{
    public static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["Europe/Berlin"];

    private const int Days = 730;
    private const int Seed = 20260102;

    // A humidity sensor that has been over 80 % for days reads about 3 points high (data sheet of a usual chip: Sensirion, SHT20, 2011).
    private const double DampOffset = 3;

    // Two weeks of readings: more than is folded again.
    private const int JournalMax = 2 * 14 * 9 * 144;
    private static readonly Instant Start = Instant.FromUtc(2025, 12, 31, 23, 0);

    private static readonly (string Spot, string Crop, SowingMethod Method)[] Habits =
    [
        ("boiler-cupboard", "tomato", SowingMethod.CoveredMix),
        ("thermostat-mat", "pepper-sweet", SowingMethod.CoveredMix),
        ("router-shelf", "broccoli", SowingMethod.DampTowel),
        ("freezer-top", "lettuce", SowingMethod.CoveredMix),
    ];

    /// <summary>All alerts.</summary>
    public static IReadOnlyList<Alert> Live()
    {
        var home = new SimulatedHome(Start, Zone, Seed);
        var watch = new HomeWatch(Facts());
        var random = new Random(Seed);
        var damp = new Random(Seed + 1);
        var told = new Dictionary<(AlertKind, AlertSubject, Instant), Alert>();
        var readings = new List<Reading>();
        var journal = new List<Reading>();
        for (var minute = 1; minute <= Days * 24 * 60; minute++)
        {
            home.Step();
            if (minute % 10 == 0)
            {
                Measure(home, random, damp, readings);
            }

            if (minute % 60 == 0)
            {
                journal.AddRange(readings);
                Note(watch, watch.Step(readings, home.Now), journal, home.Now, told);
                readings.Clear();
            }
        }

        return [.. told.Values.OrderBy(alert => alert.OpenedAt).ThenBy(alert => alert.Kind, ConditionRegistry.Order)
            .ThenBy(alert => alert.Subject.Name, StringComparer.Ordinal)];
    }

    private static double True(SimulatedHome home, SimulatedProbeDesign design)
    {
        var climate = home[design.Spot];
        return (design.Probe.Measurand == Measurand.Air ? climate.Air : climate.Media).Celsius + design.OffsetKelvins;
    }

    private static void Note(HomeWatch watch, IReadOnlyList<WatchEvent> events, List<Reading> journal, Instant now,
        Dictionary<(AlertKind, AlertSubject, Instant), Alert> told)
    {
        if (journal.Count > JournalMax)
        {
            journal.RemoveRange(0, JournalMax / 2);
        }

        foreach (var happened in events)
        {
            // Readings come in order of time; but what a batch brings along to a place is known only when the place that it left has been
            // folded.
            if (happened is RefoldNeeded late)
            {
                Note(watch, watch.Refold(late, (probe, from) =>
                    journal.Where(reading => reading.Probe == probe && reading.MeasuredAt >= from), now), journal, now, told);
                continue;
            }

            var alert = happened switch
            {
                AlertOpened { Alert: var opened } => opened,
                AlertWorsened { Alert: var worse } => worse,
                AlertAmended { Alert: var amended } => amended,
                AlertClosed { Alert: var closed } => closed,
                _ => throw new InvalidOperationException($"What is {happened}?"),
            };
            told[(alert.Kind, alert.Subject, alert.OpenedAt)] = alert;
        }
    }

    private static void Measure(SimulatedHome home, Random random, Random damp, List<Reading> readings)
    {
        foreach (var design in SharedFlat.Probes.OrderBy(design => design.Probe.Id.Text, StringComparer.Ordinal))
        {
            if (IsAway(design.Probe.Id, home.Now))
            {
                continue;
            }

            var celsius = True(home, design) + 0.05 * Seeded.Normal(random);
            if (random.Next(50_000) == 0)
            {
                celsius += 25;
            }

            readings.Add(new(
                design.Probe.Id, home.Now, home.Now, Temperature.FromCelsius(Math.Round(celsius, 1)),
                design.Probe.Measurand == Measurand.Air
                    ? RelativeHumidity.FromPercent(
                    Math.Clamp(Math.Round(home[design.Spot].Humidity.Percent + DampOffset + 0.4 * Seeded.Normal(damp)), 0, 100)) : null,
                Battery: 90));
        }
    }

    private static bool IsAway(ProbeId probe, Instant now) =>
        Brokers().Any(away => away.Contains(now)) || (probe.Text == "sill-mix" && Batteries().Any(away => away.Contains(now)));

    private static IEnumerable<Interval> Brokers() =>
        Enumerable.Range(1, 7).Select(quarter => new Interval(At(91 * quarter + 0.4), At(91 * quarter + 0.4 + 1 / 24.0)));

    private static IEnumerable<Interval> Batteries() => [new(At(100), At(102)), new(At(465), At(467))];

    private static HomeFacts Facts() => new()
    {
        Zone = Zone,
        Probes = [.. SharedFlat.Probes.Select(design => design.Probe)],
        Spots = SharedFlat.Spots,
        Stations = [.. SharedFlat.Probes.Select(design => new Station(design.Probe.Id, design.Spot, new(Start, null)))],
        Batches = [.. Sowings()],
        Outages = [.. Brokers().Select(away => new Outage(away, OutageCause.Broker))],
    };

    private static IEnumerable<WatchedBatch> Sowings()
    {
        var count = 0;
        foreach (var month in new[] { 2, 3, 4, 8, 14, 15, 16, 20 })
        {
            foreach (var (spot, crop, method) in Habits)
            {
                var sown = At(month * 30.4);
                var uncovered = sown + Duration.FromDays(++count % 3 == 0 ? 13 : 10);
                var end = sown + Duration.FromDays(30);
                var batch = new Batch(
                    new($"{char.ToUpperInvariant(crop[0])}{count}"), new(crop), null, method, sown, 12,
                    [new(new SpotId(spot), new(sown, uncovered)), new(new SpotId("sunny-sill"), new(uncovered, end))],
                    [new(sown + Duration.FromDays(9), 7)], end);
                yield return new(batch, CropCatalog.Shipped.Require(crop)) { CoverOffAt = uncovered };
            }
        }
    }

    private static Instant At(double days) => Start + Duration.FromDays(days);
}
