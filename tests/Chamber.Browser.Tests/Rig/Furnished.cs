using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Storage;
using Chamber.Storage.Seam;
using NodaTime;

namespace Chamber.Browser.Tests.Rig;

/// <summary>Homes to begin a flow in.</summary>
public static class Furnished
{
    /// <summary>A steady 25 °C for a fortnight, and tomatoes that have stood in it for six days: the first come up about now.</summary>
    public static void WithTomatoesDue(ChamberStore store)
    {
        var now = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());
        var begin = now - Duration.FromDays(14);
        var (spot, probe) = (new SpotId("shelf"), new ProbeId("p1"));
        store.Ledger.SetUp.Save(new Spot(spot, SpotKind.Shelf, LightLevel.Dim, 2));
        store.Ledger.SetUp.Save(new ProbeEntry(new(probe, Measurand.Media, Duration.FromHours(2))));
        store.Ledger.SetUp.Put(probe, spot, begin);
        store.Journal.Append(
            [.. Enumerable.Range(0, 14 * 24 * 2).Select(i => begin + Duration.FromMinutes(30 * i)).Select(at =>
                new Reading(probe, at, at, Temperature.FromCelsius(25), null, null, null, ClockSource.Payload))],
            []);
        var sown = now - Duration.FromDays(6);
        store.Ledger.Batches.Sow(
            new(new("T1"), new("tomato"), null, SowingMethod.CoveredMix, sown, 12, [new Stay(spot, new(sown, null))], [], null));
    }

    /// <summary>Names as long as they may be: of a spot, its probe, a lot, and a batch that is due.</summary>
    public static void WithLongNames(ChamberStore store)
    {
        var now = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());
        var begin = now - Duration.FromDays(8);
        var (spot, probe, lot) = (new SpotId(Long("shelf-above-the-boiler")), new ProbeId(Long("probe-in-the-mix")),
            new LotId(Long("tomato-from-grandmother")));
        store.Ledger.SetUp.Save(new Spot(spot, SpotKind.BoilerCupboard, LightLevel.Dark, 2));
        store.Ledger.SetUp.Save(new ProbeEntry(new(probe, Measurand.Media, Duration.FromHours(2))));
        store.Ledger.SetUp.Put(probe, spot, begin);
        store.Journal.Append(
            [.. Enumerable.Range(0, 8 * 24 * 2).Select(i => begin + Duration.FromMinutes(30 * i)).Select(at =>
                new Reading(probe, at, at, Temperature.FromCelsius(24), null, null, null, ClockSource.Payload))],
            []);
        store.Ledger.Seeds.Save(new Lot(lot, new("tomato"), "A variety whose name somebody wrote down in full, with the village",
            SeedOrigin.Saved, 2020, LotYearKind.Harvested, 60, begin, null));
        store.Ledger.Batches.Sow(new(new(Long("tomatoes-for-the-balcony")), new("tomato"), lot, SowingMethod.CoveredMix, begin, 12,
            [new Stay(spot, new(begin, null))], [], null));
        store.Ledger.Alerts.Save(new AlertEntry(0, AlertKind.WeakBattery, AlertSubject.Of(probe), Severity.Note, now, now, "{}"));
    }

    private static string Long(string name) => name.PadRight(Core.Identifier.LengthMax, 'm');
}
