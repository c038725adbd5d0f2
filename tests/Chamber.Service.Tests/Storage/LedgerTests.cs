using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

/// <summary>Readings, times and counts are invented.</summary>
public sealed class LedgerTests : IDisposable
{
    private static readonly Instant Now = DataFile.Start;
    private static readonly ProbeId Cube = new("cube");
    private static readonly SpotId Shelf = new("router-shelf");
    private static readonly SpotId Sill = new("sill");

    private readonly DataFile file = new();
    private readonly ChamberStore store;

    public LedgerTests()
    {
        store = file.Open();
        store.Ledger.SetUp.Save(new Spot(Shelf, SpotKind.Electronics, LightLevel.Dark, 2));
        store.Ledger.SetUp.Save(new Spot(Sill, SpotKind.Sill, LightLevel.Bright, 4));
        store.Ledger.SetUp.Save(new ProbeEntry(new(Cube, Measurand.Media, Duration.FromHours(1)), HandRead: true, "red dot"));
    }

    [Fact]
    public void Places_come_back_as_they_were_written_down()
    {
        var places = store.Ledger.SetUp;
        places.Save(new Spot(Sill, SpotKind.Sill, LightLevel.Dim, 6));
        places.Save(new Calibration(Cube, Now, TemperatureDifference.FromKelvins(-0.4), 310, 720, "ice water"));
        places.Put(Cube, Shelf, Now);
        places.Put(Cube, Sill, Hours(72));
        places.Lift(Cube, Hours(100));

        Assert.Equal([new(Shelf, SpotKind.Electronics, LightLevel.Dark, 2), new Spot(Sill, SpotKind.Sill, LightLevel.Dim, 6)],
            places.Spots());
        Assert.Equal(new ProbeEntry(new(Cube, Measurand.Media, Duration.FromHours(1)), true, "red dot"), Assert.Single(places.Probes()));
        Assert.Equal(new Calibration(Cube, Now, TemperatureDifference.FromKelvins(-0.4), 310, 720, "ice water"),
            Assert.Single(places.Calibrations()));
        Assert.Equal([new(Cube, Shelf, new(Now, Hours(72))), new Station(Cube, Sill, new(Hours(72), Hours(100)))], places.Stations());
    }

    [Fact]
    public void A_probe_can_be_back_dated_on_its_spot_but_not_to_when_it_was_elsewhere()
    {
        var places = store.Ledger.SetUp;
        places.Save(new Spot(Sill, SpotKind.Sill, LightLevel.Dim, 6));
        places.Put(Cube, Shelf, Hours(5));
        places.Put(Cube, Sill, Hours(10));
        places.Lift(Cube, Hours(20));
        places.Put(Cube, Shelf, Hours(90));
        places.Put(Cube, Shelf, Hours(30));
        Assert.Equal(new Station(Cube, Shelf, new(Hours(30), null)), places.Stations()[^1]);
        Assert.Equal(3, places.Stations().Count);

        var refused = Assert.ThrowsAny<Core.RefusedException>(() => places.Put(Cube, Shelf, Hours(15)));
        Assert.Contains("stood on \"sill\" then", refused.Message, StringComparison.Ordinal);
        Assert.Equal(new Station(Cube, Shelf, new(Hours(30), null)), places.Stations()[^1]);
    }

    public static TheoryData<string, Action<HomePen>> Contradictions => new()
    {
        { "There is no spot \"attic\"; set it up first.", ledger => ledger.SetUp.Put(Cube, new("attic"), Hours(5)) },
        { "There is no probe \"ghost\"; set it up first, or let it speak once.",
            ledger => ledger.SetUp.Put(new("ghost"), Sill, Hours(5)) },
        { "Probe \"cube\" was put there at 2026-02-01 06:00 UTC; it can only leave after that.",
            ledger => ledger.SetUp.Put(Cube, Sill, Now) },
        { "Probe \"cube\" stood on \"router-shelf\" then (from 2026-02-01 06:00 UTC); a probe is on one spot at a time.",
            ledger => ledger.SetUp.Record(new(Cube, Sill, new(Hours(-5), Hours(1)))) },
        { "Entry 4 rests on that (probe cube put on router-shelf): There is no spot \"router-shelf\"; set it up first.",
            ledger => ledger.SetUp.Remove(Shelf) },
        { "0 is outside 1 to 1000 for the containers that a spot has room for: count the trays or pots that fit.",
            ledger => ledger.SetUp.Save(new Spot(Sill, SpotKind.Sill, LightLevel.Dim, 0)) },
        { "The dry and the saturated reading are the same, so they say nothing; take one in dry mix and one in soaked mix.",
            ledger => ledger.SetUp.Save(new Calibration(Cube, Now, default, 5, 5)) },
        { "Lot \"a\" would be its own ancestor.", ledger => ledger.Seeds.Save(Saved("a", "b")) },
        { "There is no lot \"z\"; record it first.", ledger => ledger.Seeds.Save(Saved("c", "z")) },
        { "4 good is more than the 3 seeds.", ledger => ledger.Seeds.Record(new(new("a"), Now, null, 3, 4)) },
        { "24 is outside 1900 to 2200 for the year of a lot: write it with four digits, as it stands on the packet.",
            ledger => ledger.Seeds.Save(Saved("c", null) with { Year = 24 }) },
        { "The profile of \"kale\" is not JSON.", ledger => ledger.Crops.Save(new("kale"), "{") },
        { "There is no alert 99.", ledger => ledger.Alerts.See(99, "Ana", Now) },
    };

    [Theory]
    [MemberData(nameof(Contradictions), DisableDiscoveryEnumeration = true)]
    public void What_contradicts_the_record_is_refused_in_one_sentence(string message, Action<HomePen> act)
    {
        store.Ledger.SetUp.Put(Cube, Shelf, Now);
        store.Ledger.Seeds.Save(Saved("a", null));
        store.Ledger.Seeds.Save(Saved("b", "a"));

        Assert.Equal(message, Assert.ThrowsAny<Core.RefusedException>(() => act(store.Ledger.By(Core.Facts.Author.Program, Now))).Message);
        Assert.Single(store.Ledger.SetUp.Stations());
    }

    [Fact]
    public void Lots_and_tests_come_back_as_they_were_written_down()
    {
        var mother = Saved("a", null) with { Year = null, Variety = null };
        var lot = new Lot(new("b"), new("basil"), "Genovese", SeedOrigin.Bought, 2025, LotYearKind.SowBy, 200, Now, 0.89m, 250,
            SeedStorage.RefrigeratorJar, true, new LotId("a"), 0.85, "swap");
        var test = new LotTest(new("b"), Now, Hours(200), 20, 17, false, null, "too warm");
        store.Ledger.Seeds.Save(mother);
        store.Ledger.Seeds.Save(lot);
        store.Ledger.Seeds.Record(test with { CalledAt = null, Good = 0 });
        store.Ledger.Seeds.Record(test);

        Assert.Equal([mother, lot], store.Ledger.Seeds.Lots());
        Assert.Equal([test], store.Ledger.Seeds.Tests(new LotId("b")));
    }

    [Fact]
    public void An_alert_keeps_what_people_did_when_the_watch_changes_what_it_says()
    {
        var alerts = store.Ledger.Alerts;
        var number = alerts.Save(TooCold());
        var acts = store.Ledger.By(Core.Facts.Author.Program, Hours(1)).Alerts;
        acts.See(number, "Ana", Hours(1));
        acts.Mute(number, Hours(9));
        alerts.Save(TooCold() with { Number = number, Severity = Severity.Urgent });

        Assert.Equal(TooCold() with { Number = number, Severity = Severity.Urgent, SeenAt = Hours(1), SeenBy = "Ana",
            MutedUntil = Hours(9) },
            Assert.Single(alerts.Open()));
        Assert.Throws<LedgerRefusedException>(() => alerts.Save(TooCold()));

        alerts.Save(TooCold() with { Number = number, ClosedAt = Hours(3), CloseReason = CloseReason.Over });
        Assert.Empty(alerts.Open());
        Assert.NotEqual(number, alerts.Save(TooCold()));
        Assert.Equal(1, alerts.Forget(closedBefore: Hours(4)));
    }

    [Fact]
    public void A_notice_waits_until_it_is_sent_or_given_up()
    {
        var notices = store.Ledger.Notices;
        Assert.True(notices.Add("mail", "1", "cold", Now));
        Assert.True(notices.Add("mail", "2", "hot", Now));
        var (first, second) = (notices.Due(Now)[0].Number, notices.Due(Now)[1].Number);
        notices.Failed(first, "no answer", Hours(1));

        Assert.Equal([second], notices.Due(Now).Select(notice => notice.Number));
        notices.Sent(second, Now);
        Assert.Equal(Hours(1), notices.NextAt());
        notices.Failed(first, "no answer", null);

        Assert.Null(notices.NextAt());
        var dead = Assert.Single(notices.Dead());
        Assert.Equal((2, "no answer", true), (dead.Attempts, dead.Error, dead.IsDead));
        notices.Revive(first, Hours(5));
        Assert.Equal([first], notices.Due(Hours(5)).Select(notice => notice.Number));
    }

    [Fact]
    public void A_channel_takes_a_notice_of_one_name_once_even_after_it_was_sent()
    {
        var notices = store.Ledger.Notices;
        Assert.True(notices.Add("mail", "alert-1-opened", "cold", Now));
        Assert.False(notices.Add("mail", "alert-1-opened", "cold", Now));
        Assert.True(notices.Add("push", "alert-1-opened", "cold", Now));

        notices.Sent(notices.Due(Now)[0].Number, Hours(1));
        Assert.False(notices.Add("mail", "alert-1-opened", "cold", Hours(2)));
        Assert.Equal(["push"], notices.Waiting().Select(notice => notice.Channel));
        Assert.Equal(Hours(1), notices.LastSent()["mail"]);
    }

    [Fact]
    public void The_names_of_notices_that_were_sent_are_bounded()
    {
        using var lax = file.Open(new() { Readings = Durability.ProcessEnd });
        for (var i = 0; i <= NoticeOutbox.SentMax; i++)
        {
            lax.Ledger.Notices.Add("mail", $"n{i}", "", Hours(i));
            lax.Ledger.Notices.Sent(lax.Ledger.Notices.Due(Hours(i))[0].Number, Hours(i));
        }

        Assert.True(lax.Ledger.Notices.Add("mail", "n0", "", Now));
        Assert.False(lax.Ledger.Notices.Add("mail", "n1", "", Now));
    }

    [Fact]
    public void More_notices_than_the_bound_give_up_the_oldest()
    {
        using var lax = file.Open(new() { Readings = Durability.ProcessEnd });
        for (var i = 0; i < NoticeOutbox.WaitingMax + 3; i++)
        {
            lax.Ledger.Notices.Add("push", $"n{i}", $"{i}", Now);
        }

        Assert.Equal(["2", "1", "0"], lax.Ledger.Notices.Dead().Select(notice => notice.Payload));
        Assert.Equal("3", lax.Ledger.Notices.Due(Now)[0].Payload);
    }

    [Fact]
    public void Settings_crops_and_outages_are_remembered_across_openings()
    {
        store.Ledger.Settings.Set("last-frost", "2027-05-12");
        store.Ledger.Settings.Set("gone", "x");
        store.Ledger.Settings.Set("gone", null);
        store.Ledger.Crops.Save(new("kale"), """{"base":4}""");
        store.Ledger.Alerts.Save(new OutageEntry(new(Now, null), OutageCause.Service));
        store.Ledger.Alerts.Save(new OutageEntry(new(Now, Hours(2)), OutageCause.Service));

        using var again = file.Open();
        Assert.Equal(["last-frost"], again.Ledger.Settings.All().Keys);
        Assert.Equal("2027-05-12", again.Ledger.Settings.Get("last-frost"));
        Assert.Equal((new("kale"), """{"base":4}"""), Assert.Single(again.Ledger.Crops.All()));
        Assert.Equal(new OutageEntry(new(Now, Hours(2)), OutageCause.Service), Assert.Single(again.Ledger.Alerts.Outages()));
    }

    public void Dispose()
    {
        store.Dispose();
        file.Dispose();
    }

    private static Instant Hours(int hours) => Now + Duration.FromHours(hours);

    private static Lot Saved(string id, string? parent) =>
        new(new(id), new("basil"), "Own", SeedOrigin.Saved, 2025, LotYearKind.Harvested, 100, Now,
            Parent: parent is null ? null : new LotId(parent));

    private static AlertEntry TooCold() => new(0, AlertKind.TooCold, AlertSubject.Of(Shelf), Severity.Warning, Now, Hours(1),
        """{"coldest":11.5}""");
}
