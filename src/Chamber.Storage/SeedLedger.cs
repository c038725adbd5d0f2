using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Facts;
using Chamber.Core.Seeds;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage;

/// <summary>Lots of seed and their tests.</summary>
public sealed class SeedLedger
{
    private const string Columns = "SELECT id, crop, variety, origin, year, year_kind, counted, counted_at, price, bought, storage, "
        + "treated, parent, stated_share, note FROM lot";
    private const int LineageMax = 100;

    private readonly Database database;

    internal SeedLedger(Database database) => this.database = database;

    /// <summary>Every lot, by name.</summary>
    public IReadOnlyList<Lot> Lots() => database.Read(connection => Kept(connection.Rows(ToLot, Columns + " ORDER BY id")));

    public Lot? Lot(LotId id) =>
        database.Read(connection => Kept(connection.Rows(ToLot, Columns + " WHERE id = ?1", id.Text)).FirstOrDefault());

    /// <summary>Adds a lot, or changes the one with this name.</summary>
    public void Save(Lot lot) => database.WriteDown(connection =>
    {
        Check(connection, lot);
        connection.Execute(
            """
            INSERT INTO lot (id, crop, variety, origin, year, year_kind, counted, counted_at, price, bought, storage, treated, parent, stated_share, note)
            VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15)
            ON CONFLICT DO UPDATE SET crop = excluded.crop, variety = excluded.variety, origin = excluded.origin, year = excluded.year,
              year_kind = excluded.year_kind, counted = excluded.counted, counted_at = excluded.counted_at, price = excluded.price,
              bought = excluded.bought, storage = excluded.storage, treated = excluded.treated, parent = excluded.parent,
              stated_share = excluded.stated_share, note = excluded.note
            """,
            lot.Id.Text, lot.Crop.Text, lot.Variety, lot.Origin.ToString(), lot.Year, lot.YearKind.ToString(), lot.Counted,
                lot.CountedAt.Milliseconds(),
            lot.Price?.Invariant(), lot.Bought, lot.Storage.ToString(), lot.Treated, lot.Parent?.Text, lot.StatedShare, lot.Note);
        database.LeftOut.Forget(Named(lot));
    });

    /// <summary>Takes away a lot that nothing was sown from or saved from, with its tests.</summary>
    public void Remove(LotId lot) => database.WriteDown(connection =>
    {
        LedgerRefusedException.When(
            connection.Whole("SELECT EXISTS (SELECT 1 FROM batch WHERE lot = ?1) OR EXISTS (SELECT 1 FROM lot WHERE parent = ?1)",
                lot.Text) != 0,
            $"Batches were sown from \"{lot}\", or seed saved, and their history needs it; set its count to 0 instead.");
        LedgerRefusedException.When(connection.Execute("DELETE FROM lot WHERE id = ?1", lot.Text) == 0, Unknown(lot));
    });

    /// <summary>
    /// How many seeds should be left: the last count less what was sown, or tested outside a batch, since.
    /// Below 0 when more was sown than was counted: count again.
    /// </summary>
    public int Left(LotId lot) => database.Read(connection =>
    {
        Require(connection, lot);
        return (int)connection.Whole(
            """
            SELECT counted
              - coalesce((SELECT sum(seeds) FROM batch WHERE batch.lot = lot.id AND sown_at >= counted_at), 0)
              - coalesce((SELECT sum(seeds) FROM lot_test WHERE lot_test.lot = lot.id AND lot_test.batch IS NULL AND started_at >= counted_at), 0)
            FROM lot WHERE id = ?1
            """,
            lot.Text);
    });

    /// <summary>The tests of a lot, or of all lots, in order of time.</summary>
    public IReadOnlyList<LotTest> Tests(LotId? lot = null) => database.Read(connection => database.LeftOut.Keep(
        connection.Rows(
            ToTest,
            "SELECT lot, started_at, called_at, seeds, good, fair, batch, note FROM lot_test WHERE ?1 IS NULL OR lot = ?1 ORDER BY "
                + "started_at, number",
            lot?.Text),
        WithinBounds.WhyNot,
        test => $"A test of lot {test.Lot}"));

    /// <summary>Records a test; one of the same lot and start is replaced, as when a running test is called.</summary>
    public void Record(LotTest test) => database.WriteDown(connection =>
    {
        Require(connection, test.Lot);
        LedgerRefusedException.When(WithinBounds.WhyNot(test));
        LedgerRefusedException.When(test.Good < 0 || test.Good > test.Seeds, $"{test.Good} good is more than the {test.Seeds} seeds.");
        LedgerRefusedException.When(test.CalledAt < test.StartedAt, "A test is called after it was started.");
        connection.Execute("DELETE FROM lot_test WHERE lot = ?1 AND started_at = ?2", test.Lot.Text, test.StartedAt.Milliseconds());
        connection.Execute(
            "INSERT INTO lot_test (lot, started_at, called_at, seeds, good, fair, batch, note) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
            test.Lot.Text, test.StartedAt.Milliseconds(), test.CalledAt.Milliseconds(), test.Seeds, test.Good, test.Fair,
                test.Batch?.Text, test.Note);
    });

    internal static void Require(SqliteConnection connection, LotId lot) =>
        LedgerRefusedException.When(connection.Whole("SELECT count(*) FROM lot WHERE id = ?1", lot.Text) == 0, Unknown(lot));

    private static string Unknown(LotId lot) => $"There is no lot \"{lot}\"; record it first.";

    private static void Check(SqliteConnection connection, Lot lot)
    {
        LedgerRefusedException.When(WithinBounds.WhyNot(lot));
        LedgerRefusedException.When(lot.Bought < 1, "The price paid for at least 1 seed.");
        var ancestor = lot.Parent;
        for (var i = 0; ancestor is { } parent; i++)
        {
            LedgerRefusedException.When(parent == lot.Id || i > LineageMax, $"Lot \"{lot.Id}\" would be its own ancestor.");
            Require(connection, parent);
            ancestor = connection.Text("SELECT parent FROM lot WHERE id = ?1", parent.Text) is { } next ? new LotId(next) : null;
        }
    }

    private List<Lot> Kept(List<Lot> lots) =>
        database.LeftOut.Keep(lots, lot => WithinBounds.WhyNot(lot) is { } why
        ? $"{why} To put it right, add it again under its name." : null, Named);

    private static string Named(Lot lot) => $"Lot {lot.Id}";

    private static Lot ToLot(SqliteDataReader row) => new(
        new(row.GetString(0)), new(row.GetString(1)), row.Text(2), row.Word<SeedOrigin>(3), row.MaybeCount(4), row.Word<LotYearKind>(5),
        row.Count(6), row.Moment(7), row.Text(8) is { } price ? decimal.Parse(price, CultureInfo.InvariantCulture) : null,
            row.MaybeCount(9),
        row.Word<SeedStorage>(10), row.GetBoolean(11), row.Text(12) is { } parent ? new LotId(parent) : null, row.Real(13), row.Text(14));

    private static LotTest ToTest(SqliteDataReader row) => new(
        new(row.GetString(0)), row.Moment(1), row.MaybeMoment(2), row.Count(3), row.Count(4), row.GetBoolean(5),
        row.Text(6) is { } batch ? new BatchId(batch) : null, row.Text(7));
}
