using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Notices;
using Chamber.Core.Alerts.Scripts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>A clock that once stood two days ahead, and a journal that gives readings out of order: danger is told, and the watch comes to
/// an end.</summary>
public sealed class PutBackClockTests
{
    private const string Home = """
        spot mat is a heat mat, dark
        probe soil measures media on mat, silent after 2 h
        """;

    private static readonly ProbeId Soil = new("soil");
    private static readonly Duration TwoDays = Duration.FromDays(2);

    private readonly HomeFacts facts = WatchScript.Parse("home", Home).Facts;
    private readonly List<Reading> journal = [];
    private readonly List<WatchEvent> said = [];
    private readonly Instant start;
    private HomeWatch watch;
    private int refolds;
    private bool isDisordered;

    public PutBackClockTests()
    {
        watch = new(facts);
        start = facts.Stations[0].When.Start + Duration.FromHours(8);
    }

    [Fact]
    public void Danger_is_told_after_the_clock_was_put_back()
    {
        Live(start, 3, 24);
        Live(start + TwoDays, 3, 25);
        Live(start + Duration.FromMinutes(10), 2, 60);

        var alert = Assert.Single(watch.Open());
        Assert.Equal((AlertKind.Hazard, Severity.Danger), (alert.Kind, alert.Severity));
        Assert.Equal(alert.OpenedAt,
            Assert.Single(said.OfType<AlertOpened>(), opened => opened.Alert.Kind == AlertKind.Hazard).Alert.OpenedAt);
        Assert.DoesNotContain(said.OfType<AlertClosed>(), closed => closed.Alert.Kind == AlertKind.Hazard);
    }

    [Fact]
    public void It_is_told_too_when_the_watch_starts_among_readings_that_lie_ahead()
    {
        Keep(start, 24);
        Keep(start + TwoDays, 25);
        Keep(start + TwoDays + Duration.FromMinutes(20), 25);
        watch = new(facts);
        Hear(watch.Rebuild(new((_, from) => Journal().Where(reading => reading.MeasuredAt >= from), start - TwoDays), start), start);
        Live(start + Duration.FromMinutes(10), 2, 60);

        Assert.Equal(AlertKind.Hazard, Assert.Single(watch.Open()).Kind);
    }

    [Fact]
    public void A_spot_is_not_silent_for_a_time_that_is_still_to_come()
    {
        Live(start, 3, 24);
        Hear(watch.Step(start + TwoDays), start + TwoDays);
        Assert.Equal(AlertKind.SilentProbe, Assert.Single(watch.Open()).Kind);
        Live(start + Duration.FromMinutes(10), 3, 24);

        Assert.Empty(watch.Open());
    }

    [Fact]
    public void What_was_told_by_a_clock_ahead_is_told_again_when_it_still_holds()
    {
        Live(start, 1, 60);
        var standing =
            new AlertStanding(1,
                Assert.Single(watch.Open())) { Notified = new(start + TwoDays, Severity.Danger, start + TwoDays, 1, false) };

        var decision = Assert.Single(NoticePolicy.Decide([standing], facts, null, start));
        Assert.Equal(NoticeReason.Again, decision.Reason);
        Assert.Equal(start, decision.Notified.At);
    }

    [Fact]
    public void A_journal_out_of_order_is_folded_once_and_counted()
    {
        Live(start, 60, 24);
        (journal[20], journal[40], isDisordered) = (journal[40], journal[20], true);
        Keep(start + Duration.FromSeconds(90), 24);
        Hear(watch.Step([journal[^1]], start + Duration.FromHours(1)), start + Duration.FromHours(1));

        Assert.Equal(1, refolds);
        Assert.True(watch.OutOfOrder > 0);
    }

    private void Live(Instant from, int minutes, double celsius)
    {
        for (var minute = 0; minute < minutes; minute++)
        {
            var at = from + Duration.FromMinutes(minute);
            Keep(at, celsius);
            Hear(watch.Step([journal[^1]], at), at);
            Hear(watch.Step(at), at);
        }
    }

    private void Keep(Instant at, double celsius) => journal.Add(new(Soil, at, at, Temperature.FromCelsius(celsius)));

    private IEnumerable<Reading> Journal() => isDisordered ? journal : journal.OrderBy(reading => reading.MeasuredAt);

    private void Hear(IReadOnlyList<WatchEvent> events, Instant now)
    {
        foreach (var happened in events)
        {
            if (happened is RefoldNeeded late)
            {
                Assert.True(++refolds < 100, "It is folded again and again.");
                Hear(watch.Refold(late, (_, from) => Journal().Where(reading => from is null || reading.MeasuredAt >= from), now), now);
            }
            else
            {
                said.Add(happened);
            }
        }
    }
}
