using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Scripts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>Readings that somebody sets aside while the watch runs: what they opened goes, and comes back with them.</summary>
public sealed class UnusedReadingsTests
{
    private static readonly ProbeId Soil = new("soil");

    private readonly HomeFacts facts = WatchScript.Parse("home", """
        spot mat is a heat mat, dark
        probe soil measures media on mat, silent after 30 min
        """).Facts;

    private readonly List<Reading> journal = [];
    private readonly HomeWatch watch;
    private readonly SetAside hot;
    private Instant now;
    private SetAside[] current = [];

    public UnusedReadingsTests()
    {
        watch = new(facts);
        now = facts.Stations[0].When.Start;
        Live(hours: 2, celsius: 22);
        hot = new(Soil, new(now, now + Duration.FromHours(1)));
        Live(hours: 1, celsius: 55);
    }

    [Fact]
    public void What_unused_readings_opened_is_open_no_more()
    {
        Assert.Contains(AlertKind.Hazard, Kinds());

        Know(hot);

        Assert.DoesNotContain(AlertKind.Hazard, Kinds());
        Assert.Equal(Rebuilt(hot), Kinds());
    }

    [Fact]
    public void Readings_that_are_used_again_open_it_again()
    {
        Know(hot);
        Know();

        Assert.Contains(AlertKind.Hazard, Kinds());
        Assert.Equal(Rebuilt(), Kinds());
    }

    private void Live(int hours, double celsius)
    {
        for (var minute = 0; minute < hours * 60; minute += 5, now += Duration.FromMinutes(5))
        {
            journal.Add(new(Soil, now, now, Temperature.FromCelsius(celsius)));
            Hear(watch, watch.Step([journal[^1]], now));
        }
    }

    private void Know(params SetAside[] unused)
    {
        now += Duration.FromMinutes(1);
        current = unused;
        Hear(watch, watch.Step(facts with { SetAside = unused }, now));
    }

    private List<AlertKind> Kinds() => [.. watch.Open().Select(alert => alert.Kind)];

    private List<AlertKind> Rebuilt(params SetAside[] unused)
    {
        current = unused;
        var fresh = new HomeWatch(facts with { SetAside = unused });
        fresh.Rebuild(Used, now);
        return [.. fresh.Open().Select(alert => alert.Kind)];
    }

    private void Hear(HomeWatch hearing, IReadOnlyList<WatchEvent> events)
    {
        foreach (var late in events.OfType<RefoldNeeded>())
        {
            Hear(hearing, hearing.Refold(
                late, (probe, from) => Used(probe).Where(reading => from is null || reading.MeasuredAt >= from), now));
        }
    }

    private IEnumerable<Reading> Used(ProbeId probe) => journal.Where(reading =>
        reading.Probe == probe && !Array.Exists(current, span => span.Probe == probe && span.When.Contains(reading.MeasuredAt)));
}
