using Chamber.Core.Batches;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Lots;
using Chamber.Core.Seeds;

namespace Chamber.Storage.Writing;

/// <summary>Lots of seed and their tests.</summary>
public sealed class SeedLedger
{
    private readonly HomePen pen;

    internal SeedLedger(HomePen pen) => this.pen = pen;

    /// <summary>Every lot, by name.</summary>
    public IReadOnlyList<Lot> Lots() => pen.Home.Lots;

    public Lot? Lot(LotId id) => pen.Home.Lot(id);

    /// <summary>Adds a lot, or changes the one of this name.</summary>
    public void Save(Lot lot)
    {
        ArgumentNullException.ThrowIfNull(lot);
        pen.Write(home => home.Lot(lot.Id) is var old && old == lot ? [] : [LotNoted.Between(old, lot, pen.Now)]);
    }

    /// <summary>Takes away a lot that nothing was sown from or saved from, with its tests: what was rests on it, and the fold
    /// refuses.</summary>
    public void Remove(LotId lot) => pen.WithdrawAll(FactSubject.Of(lot));

    /// <summary>The tests of a lot, or of all lots, in order of time.</summary>
    public IReadOnlyList<LotTest> Tests(LotId? lot = null) => [.. pen.Home.Tests.Where(test => lot is null || test.Lot == lot)];

    /// <summary>Writes down a test; one of the same lot and start is replaced, as when a running test is called.</summary>
    public void Record(LotTest test) => pen.Write(LotTested.Of(test));
}
