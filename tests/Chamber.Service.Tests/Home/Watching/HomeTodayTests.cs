using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Service.Home.Watching;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Home.Watching;

public sealed class HomeTodayTests : IDisposable
{
    private static readonly Instant Now = Instant.FromUtc(2027, 3, 10, 8, 0);

    private readonly TempFolder folder = new();
    private readonly ChamberStore store;

    public HomeTodayTests()
    {
        store = ChamberStore.Open(folder.File("chamber.db"));
        store.Ledger.SetUp.Save(new Spot(new("cupboard"), SpotKind.BoilerCupboard, LightLevel.Dark, 9));
        Sow("T1", "tomato", 12, SowingMethod.CoveredMix, 5);
        Sow("C1", "broccoli", 8, SowingMethod.DampTowel, 4);
    }

    public void Dispose()
    {
        store.Dispose();
        folder.Dispose();
    }

    [Fact]
    public void What_costs_most_by_waiting_comes_first_and_danger_before_all()
    {
        Alert(AlertKind.WeakBattery, SubjectKind.Probe, "p1", Severity.Note);
        Alert(AlertKind.Hazard, SubjectKind.Spot, "cupboard", Severity.Danger);
        var today = Read();
        Assert.Equal([null, "T1", "C1", null], today.Now.Select(item => item.Reminder?.Batch.Text));
        Assert.Equal("hazard", today.Now[0].Alert!.Condition);
        Assert.Null(today.Now[0].Cost);
        Assert.Equal("weak-battery", today.Now[3].Alert!.Condition);
    }

    // The oldest is least urgent, the newest costs eight of twelve seeds.
    [Fact]
    public void Everywhere_alerts_stand_in_the_order_of_what_it_costs_to_wait()
    {
        Alert(AlertKind.WeakBattery, SubjectKind.Probe, "p1", Severity.Note);
        Alert(AlertKind.TooCold, SubjectKind.Spot, "sill", Severity.Warning);
        Alert(AlertKind.TooHot, SubjectKind.Spot, "cupboard", Severity.Warning,
            """{"harm":[{"batch":"T1","crop":"tomato","delayHours":0,"shareLost":0.7}]}""");
        var gone = Alert(AlertKind.SilentProbe, SubjectKind.Probe, "p2", Severity.Warning);
        store.Ledger.Alerts.Save(store.Ledger.Alerts.Find(gone)! with { ClosedAt = Now, CloseReason = CloseReason.Over });

        var alerts = new HomeAlerts(new(store.Home, store.Records, CropCatalog.Shipped, DateTimeZone.Utc), new(false, DateTimeZone.Utc));
        Assert.Equal(["too-hot", "too-cold", "weak-battery"], alerts.Open().Select(one => one.Words.Condition));
        Assert.Equal(["too-hot", "too-cold", "weak-battery", "silent-probe"],
            alerts.All(Now - Duration.FromDays(1)).Select(one => one.Words.Condition));
        Assert.Equal(["too-hot", "too-cold", "weak-battery"], Read().Now.Select(item => item.Alert?.Condition).OfType<string>());
    }

    [Fact]
    public void An_alert_takes_the_place_of_the_reminder_that_says_the_same()
    {
        Alert(AlertKind.WarmAndDark, SubjectKind.Batch, "T1", Severity.Warning);
        var items = Read().Now;
        Assert.DoesNotContain(items, item => item.Reminder?.Batch.Text == "T1");
        Assert.Equal("T1", Assert.Single(items[0].Batches).Text);
        Assert.True(items[0].Cost > items[1].Cost);
    }

    [Fact]
    public void What_was_muted_is_quiet_until_then()
    {
        var number = Alert(AlertKind.WeakBattery, SubjectKind.Probe, "p1", Severity.Note);
        store.Ledger.By(Core.Facts.Author.Program, Now).Alerts.Mute(number, Now + Duration.FromHours(2));
        Assert.DoesNotContain(Read().Now, item => item.Alert is not null);
        Assert.Equal(number, Assert.Single(Read().Quiet).Number);
        var later = Read(Now + Duration.FromHours(3));
        Assert.Contains(later.Now, item => item.Alert?.Number == number);
        Assert.Empty(later.Quiet);
    }

    [Fact]
    public void What_a_probe_is_to_be_looked_at_for_says_where_it_stands()
    {
        store.Ledger.SetUp.Save(new ProbeEntry(new(new("p1"), Core.Climate.Measurand.Media, Duration.FromHours(1))));
        store.Ledger.SetUp.Put(new("p1"), new("cupboard"), Now - Duration.FromDays(1));
        Alert(AlertKind.WeakBattery, SubjectKind.Probe, "p1", Severity.Note);
        Assert.Equal(new SpotId("cupboard"), Read().Now.Single(item => item.Alert is not null).Spot);
    }

    private TodayAnswer Read(Instant? now = null) =>
        new HomeToday(new(store.Home, store.Records, CropCatalog.Shipped, DateTimeZone.Utc), now ?? Now)
            .Read(new(false, DateTimeZone.Utc), 14);

    private void Sow(string name, string crop, int seeds, SowingMethod method, int up) => store.Ledger.Batches.Sow(new Batch(
        new(name), new(crop), null, method, Now - Duration.FromDays(8), seeds,
            [new Stay(new("cupboard"), new(Now - Duration.FromDays(8), null))], [new Look(Now - Duration.FromDays(1), up)]));

    private long Alert(AlertKind kind, SubjectKind subject, string name, Severity severity, string evidence = "{}") =>
        store.Ledger.Alerts.Save(new AlertEntry(0, kind, new(subject, name), severity,
            Now - Duration.FromHours(2), Now - Duration.FromHours(1), evidence));
}
