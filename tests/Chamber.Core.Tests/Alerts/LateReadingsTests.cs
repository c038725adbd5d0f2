using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Scripts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>Readings that all come late, by more than their probes may be silent: a sensor that sends in bundles, or a machine that lags.
/// The silence is one alert, not one for each reading. Times are the program's own, to notice change.</summary>
public sealed class LateReadingsTests
{
    private const string Home = """
        spot mat is a heat mat, dark
        spot sill is a sill, bright
        probe soil measures media on mat, silent after 10 min
        probe pane measures media on sill, silent after 10 min
        """;

    private static readonly ProbeId Soil = new("soil");
    private static readonly ProbeId Pane = new("pane");

    private readonly HomeFacts facts = WatchScript.Parse("home", Home).Facts;
    private readonly List<Reading> journal = [];
    private readonly List<WatchEvent> said = [];
    private readonly Instant start;
    private readonly HomeWatch watch;

    public LateReadingsTests()
    {
        watch = new(facts);
        start = facts.Stations[0].When.Start + Duration.FromHours(8);
    }

    // The first that comes late may end a silence that was told meanwhile.
    [Theory]
    [InlineData(11)]
    [InlineData(14)]
    [InlineData(17)]
    [InlineData(40)]
    public void One_probe_that_is_late_is_told_as_silent_and_not_at_each_reading(int minutesLate)
    {
        Live(minute => [(Pane, 0), (Soil, minute < 30 ? 0 : minutesLate)]);

        Assert.InRange(Openings(AlertKind.SilentProbe), 0, 3);
        Assert.Equal(0, Openings(AlertKind.NothingHeard));
    }

    [Theory]
    [InlineData(17)]
    [InlineData(40)]
    public void All_that_are_late_are_one_silence(int minutesLate)
    {
        Live(minute => [(Pane, minute < 30 ? 0 : minutesLate), (Soil, minute < 30 ? 0 : minutesLate)]);

        Assert.InRange(Openings(AlertKind.NothingHeard), 0, 1);
        Assert.InRange(Openings(AlertKind.SilentProbe), 0, 2);
    }

    // Whoever looks once a minute takes in several late stretches before it folds anything again.
    [Fact]
    public void What_comes_later_still_before_the_refold_is_folded_too()
    {
        var heat = (Instant at) => new Reading(Soil, at, at, Temperature.FromCelsius(at < start + Duration.FromHours(2) ? 56 : 20));
        Reading[] all = [.. Enumerable.Range(0, 40 * 60).Select(minute => heat(start + Duration.FromMinutes(minute)))];
        var now = all[^1].MeasuredAt;
        watch.Step([.. all.Where((_, minute) => minute is >= 100 and not (> 2000 and < 2100))], now);
        var asked = watch.Step([.. all.Where((_, minute) => minute is > 2000 and < 2100)], now).OfType<RefoldNeeded>().Single();
        watch.Step([.. all.Where((_, minute) => minute < 100)], now);
        watch.Refold(asked, (probe, from) => all.Where(reading => reading.Probe == probe
            && (from is null || reading.MeasuredAt >= from)), now);

        Assert.Equal(start, watch.Alerts().Single(alert => alert.Kind == AlertKind.Hazard).Since);
    }

    // Three hours, a reading of each probe each minute, measured so many minutes before it comes.
    private void Live(Func<int, IEnumerable<(ProbeId Probe, int Late)>> arrivals)
    {
        for (var minute = 0; minute < 180; minute++)
        {
            var now = start + Duration.FromMinutes(minute);
            foreach (var (probe, late) in arrivals(minute))
            {
                var at = now - Duration.FromMinutes(late);
                if (!journal.Exists(known => known.Probe == probe && known.MeasuredAt >= at))
                {
                    journal.Add(new(probe, at, now, Temperature.FromCelsius(22)));
                    Hear(watch.Step([journal[^1]], now), now);
                }
            }

            Hear(watch.Step(now), now);
        }
    }

    private int Openings(AlertKind kind) => said.OfType<AlertOpened>().Count(opened => opened.Alert.Kind == kind);

    private void Hear(IReadOnlyList<WatchEvent> events, Instant now)
    {
        foreach (var happened in events)
        {
            if (happened is RefoldNeeded late)
            {
                Hear(watch.Refold(late, (probe, from) => Of(probe).Where(reading => from is null || reading.MeasuredAt >= from), now), now);
            }
            else
            {
                said.Add(happened);
            }
        }
    }

    private IEnumerable<Reading> Of(ProbeId probe) =>
        journal.Where(reading => reading.Probe == probe).OrderBy(reading => reading.MeasuredAt);
}
