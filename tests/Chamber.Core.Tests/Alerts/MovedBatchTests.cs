using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>
/// A batch that is moved, looked at and recorded late, while the watch runs: what is said of it goes on and is not said again. Home
/// and numbers are invented.
/// </summary>
public sealed class MovedBatchTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 3, 2, 0, 0);
    private static readonly SpotId Cupboard = new("cupboard");
    private static readonly SpotId Top = new("top");
    private static readonly SpotId Sill = new("sill");

    private readonly List<Reading> journal = [];
    private readonly List<WatchEvent> said = [];
    private readonly List<Stay> stays = [new(Cupboard, new(Start, null))];
    private readonly List<Look> looks = [];
    private HomeWatch watch;
    private Instant now = Start;

    public MovedBatchTests() => watch = new(Facts());

    [Fact]
    public void A_move_to_another_dark_place_goes_on_with_the_same_alert()
    {
        LiveTo(8);
        Look(8, 1);
        LiveTo(22);
        Move(22, Top);
        LiveTo(60);

        var opened = Said<AlertOpened>(AlertKind.WarmAndDark);
        Assert.Equal([At(8)], opened.Select(alert => alert.Since));
        Assert.Equal([Severity.Urgent], said.OfType<AlertWorsened>().Where(worse => worse.Alert.Kind == AlertKind.WarmAndDark)
            .Select(worse => worse.Alert.Severity));
        Assert.Empty(Said<AlertClosed>(AlertKind.WarmAndDark));

        Move(60, Sill);
        Assert.Equal([opened[0].OpenedAt], Said<AlertClosed>(AlertKind.WarmAndDark).Select(alert => alert.OpenedAt));
    }

    [Fact]
    public void A_cover_that_stays_on_through_moves_is_one_alert_from_the_first_look()
    {
        Look(8, 1);
        LiveTo(40);
        Move(40, Top);
        LiveTo(50);
        Move(50, Sill);
        LiveTo(70);

        Assert.Equal([(At(8), At(32))], Said<AlertOpened>(AlertKind.CoverShut).Select(alert => (alert.Since, alert.OpenedAt)));
        Assert.Empty(Said<AlertClosed>(AlertKind.CoverShut));
    }

    [Fact]
    public void A_look_that_is_written_down_late_dates_the_same_alert_back_to_it()
    {
        LiveTo(20);
        Look(20, 3);
        LiveTo(34);
        Move(34, Top);
        LiveTo(50);
        Look(14, 1);
        LiveTo(52);

        var opened = Assert.Single(Said<AlertOpened>(AlertKind.WarmAndDark));
        Assert.Equal(At(20), opened.Since);
        Assert.Empty(Said<AlertClosed>(AlertKind.WarmAndDark));
        Assert.Equal((At(14), At(26)), Single(watch.Open(), AlertKind.WarmAndDark));
        Assert.Contains(said.OfType<AlertAmended>(),
            amended => amended.Alert.Kind == AlertKind.WarmAndDark && amended.Alert.Since == At(14));
    }

    [Fact]
    public void Nothing_is_said_again_after_a_restart_that_follows_a_move()
    {
        Look(8, 1);
        LiveTo(22);
        Move(22, Top);
        LiveTo(60);
        var stored = watch.Alerts();
        said.Clear();

        watch = new(Facts(), stored);
        Hear(watch.Rebuild(probe => journal.Where(reading => reading.Probe == probe), now));
        LiveTo(62);

        Assert.DoesNotContain(said, happened => happened is AlertOpened or AlertClosed or AlertWorsened);
        Assert.Equal(stored.Where(alert => alert.IsOpen).Select(alert => (alert.Kind, alert.Since, alert.OpenedAt)),
            watch.Open().Select(alert => (alert.Kind, alert.Since, alert.OpenedAt)));
    }

    private static (Instant, Instant) Single(IReadOnlyList<Alert> alerts, AlertKind kind)
    {
        var alert = Assert.Single(alerts, alert => alert.Kind == kind);
        return (alert.Since, alert.OpenedAt);
    }

    private static Instant At(double hours) => Start + Duration.FromHours(hours);

    private List<Alert> Said<T>(AlertKind kind)
        where T : WatchEvent =>
        [.. said.OfType<T>().Select(happened => happened switch
        {
            AlertOpened opened => opened.Alert,
            AlertClosed closed => closed.Alert,
            _ => throw new InvalidOperationException($"{happened}"),
        }).Where(alert => alert.Kind == kind)];

    private void LiveTo(double hours)
    {
        while (now < At(hours))
        {
            now += Duration.FromMinutes(30);
            Reading[] readings = [Read("soil", 25), Read("tray", 22)];
            journal.AddRange(readings);
            Hear(watch.Step(readings, now));
            Hear(watch.Step(now));
        }
    }

    private Reading Read(string probe, double celsius) =>
        new(new(probe), now, now, Temperature.FromCelsius(celsius + 0.1 * (now.ToUnixTimeSeconds() % 7)));

    private void Look(double hours, int up)
    {
        looks.Add(new(At(hours), up));
        looks.Sort((one, other) => one.At.CompareTo(other.At));
        Hear(watch.Step(Facts(), now));
    }

    private void Move(double hours, SpotId spot)
    {
        stays[^1] = stays[^1] with { When = new(stays[^1].When.Start, At(hours)) };
        stays.Add(new(spot, new(At(hours), null)));
        Hear(watch.Step(Facts(), now));
    }

    private void Hear(IReadOnlyList<WatchEvent> events)
    {
        foreach (var happened in events)
        {
            if (happened is RefoldNeeded late)
            {
                Hear(watch.Refold(late, (probe, from) =>
                    journal.Where(reading => reading.Probe == probe && (from is null || reading.MeasuredAt >= from)), now));
            }
            else
            {
                said.Add(happened);
            }
        }
    }

    private HomeFacts Facts() => new()
    {
        Probes = [new(new("soil"), Measurand.Media, Duration.FromHours(2)), new(new("tray"), Measurand.Media, Duration.FromHours(2))],
        Spots = [new(Cupboard, SpotKind.BoilerCupboard, LightLevel.Dark, 2), new(Top, SpotKind.ApplianceTop, LightLevel.Dim, 2),
            new(Sill, SpotKind.Sill, LightLevel.Bright, 2)],
        Stations = [new(new("soil"), Cupboard, new(Start, null)), new(new("tray"), Top, new(Start, null))],
        Batches = [new(new(new("T1"), new("tomato"), null, SowingMethod.CoveredMix, Start, 12, [.. stays], [.. looks]),
            CropCatalog.Shipped.Require("tomato"))],
    };
}
