using Chamber.Core.Batches;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Lots;
using Chamber.Core.Seeds;
using Chamber.Storage.Files;
using Chamber.Storage.Records;

namespace Chamber.Storage;

/// <summary>Lots of seed and their tests.</summary>
public sealed class SeedLedger
{
    private readonly Database database;
    private readonly Pen pen;

    internal SeedLedger(Database database, Pen pen) => (this.database, this.pen) = (database, pen);

    /// <summary>Every lot, by name.</summary>
    public IReadOnlyList<Lot> Lots() => database.Read(connection => SeedRows.Lots(connection, database.LeftOut));

    public Lot? Lot(LotId id) => database.Read(connection => SeedRows.Lot(connection, database.LeftOut, id));

    /// <summary>Adds a lot, or changes the one of this name.</summary>
    public void Save(Lot lot)
    {
        ArgumentNullException.ThrowIfNull(lot);
        var old = Lot(lot.Id);
        if (old != lot)
        {
            pen.Write(LotNoted.Between(old, lot, pen.Now));
        }
    }

    /// <summary>Takes away a lot that nothing was sown from or saved from, with its tests: what was rests on it, and the fold
    /// refuses.</summary>
    public void Remove(LotId lot) => pen.WithdrawAll(FactSubject.Of(lot));

    /// <summary>
    /// How many seeds should be left: the last count less what was sown, or tested outside a batch, since.
    /// Below 0 when more was sown than was counted: count again.
    /// </summary>
    public int Left(LotId lot) => database.Read(connection =>
    {
        LedgerRefusedException.When(connection.Whole("SELECT count(*) FROM lot WHERE id = ?1", lot.Text) == 0, Unknown(lot));
        return (int)connection.Whole(
            """
            SELECT counted
              - coalesce((SELECT sum(seeds) FROM batch WHERE batch.lot = lot.id AND sown_at >= counted_at), 0)
              - coalesce((SELECT sum(seeds) FROM lot_test WHERE lot_test.lot = lot.id AND lot_test.batch IS NULL
                  AND started_at >= counted_at), 0)
            FROM lot WHERE id = ?1
            """,
            lot.Text);
    });

    /// <summary>The tests of a lot, or of all lots, in order of time.</summary>
    public IReadOnlyList<LotTest> Tests(LotId? lot = null) => database.Read(connection => SeedRows.Tests(connection, database.LeftOut,
        lot));

    /// <summary>Writes down a test; one of the same lot and start is replaced, as when a running test is called.</summary>
    public void Record(LotTest test) => pen.Write(LotTested.Of(test));

    private static string Unknown(LotId lot) => $"There is no lot \"{lot}\"; record it first.";
}
