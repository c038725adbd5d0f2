using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Scripts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using Chamber.Testing;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>The watch told in another order. Home and numbers are invented; nothing in it is a published figure.</summary>
public sealed class ArrivalOrderTests
{
    public static TheoryData<string> Scripts => [.. WatchScriptFiles.All];

    [Theory]
    [MemberData(nameof(Scripts))]
    public void Readings_of_a_story_lead_to_the_same_alerts_in_any_order_of_arrival(string name)
    {
        var script = WatchScript.Parse(name, WatchScriptFiles.Read(name));
        var expected = Final(script, script.Readings);

        for (var seed = 0; seed < 3; seed++)
        {
            var shuffled = script.Readings.ToArray();
            new System.Random(seed).Shuffle(shuffled);
            Assert.Equal(expected, Final(script, shuffled));
        }
    }

    [Property(MaxTest = 100)]
    [Trait(Tier.Name, Tier.Whole)]
    public Property Wild_readings_lead_to_the_same_alerts_in_any_order_of_arrival() => Prop.ForAll(
        ArbMap.Default.ArbFor<int>(),
        seed =>
        {
            var random = new System.Random(seed);
            var script = WatchScript.Parse("wild", Home);
            var start = script.Facts.Stations[0].When.Start;
            var readings = Enumerable.Range(0, 400).Select(_ => Wild(random, start))
                .DistinctBy(reading => (reading.Probe, reading.MeasuredAt)).ToArray();
            var expected = Final(script, [.. readings.OrderBy(reading => reading.MeasuredAt)]);
            random.Shuffle(readings);
            var found = Final(script, readings);
            return (expected == found)
                .Label($"in order:{Environment.NewLine}{expected}{Environment.NewLine}shuffled:{Environment.NewLine}{found}");
        });

    private const string Home = """
        crop tomato base 7.6 best 25 to 29 ceiling 40 cool 16.1 hot 30.6 stand 20=98 25=97 30=83 35=46
        spot mat is a heat mat, dark
        spot sill is a sill, bright
        probe soil measures media on mat, silent after 3 h
        probe air measures air on mat, silent after 1 h
        probe glass measures air on sill
        sow T1: 12 tomato in covered mix on mat
        day 2 06:00: move glass to mat
        day 3 06:00: move T1 to sill
        day 3 07:00: look at T1, 4 up
        """;

    private static Reading Wild(System.Random random, Instant start)
    {
        var at = start + Duration.FromMinutes(random.Next(0, 4 * 24 * 60));
        var probe = new ProbeId(random.Next(3) switch { 0 => "soil", 1 => "air", _ => "glass" });
        var celsius = random.Next(20) == 0 ? random.Next(-10, 80)
            : 22 + 14 * Math.Sin(at.ToUnixTimeSeconds() / 40_000.0) + random.NextDouble();
        return new(probe, at, at, Temperature.FromCelsius(celsius), RelativeHumidity.FromPercent(random.Next(20, 101)),
            random.Next(0, 1000), random.Next(0, 101));
    }

    private static string Final(WatchScript script, IReadOnlyList<Reading> arrivals)
    {
        var watch = new HomeWatch(script.Facts);
        var journal = new List<Reading>();
        var now = arrivals.Max(reading => reading.MeasuredAt) + Duration.FromHours(1);
        foreach (var batch in arrivals.Chunk(Math.Max(7, arrivals.Count / 40)))
        {
            journal.AddRange(batch);
            Hear(watch.Step(batch, now));
        }

        Hear(watch.Step(now));
        return string.Join(Environment.NewLine, watch.Folded()
            .Select(alert => $"{alert.Kind} {alert.Subject} {alert.Severity} {alert.Since} {alert.OpenedAt} {alert.ClosedAt} "
                + $"{alert.CloseReason} "
                + $"{string.Join(' ', alert.Evidence.Figures.Select(figure => $"{figure.Name}={figure.Value:0.######}"))} "
                + $"{string.Join(' ', alert.Harm)}"));

        // A place that was folded again may have changed what a batch brought to the next one.
        void Hear(IReadOnlyList<WatchEvent> events)
        {
            foreach (var request in events.OfType<RefoldNeeded>())
            {
                Hear(watch.Refold(request,
                    (probe, from) => journal.Where(reading => reading.Probe == probe && (from is null || reading.MeasuredAt >= from))
                    .OrderBy(reading => reading.MeasuredAt), now));
            }
        }
    }
}
