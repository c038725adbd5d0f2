using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Facts;
using Chamber.Core.Seeds;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Records;

/// <summary>Between lots and their tests and the tables they are kept in.</summary>
internal static class SeedRows
{
    private const string Columns =
        """
        SELECT id, crop, variety, origin, year, year_kind, counted, counted_at, price, bought, storage, treated, parent, stated_share, note
        FROM lot
        """;

    public static List<Lot> Lots(SqliteConnection connection, LeftOut leftOut) =>
        Kept(leftOut, connection.Rows(ToLot, Columns + " ORDER BY id"));

    /// <summary>Every test, in order of time.</summary>
    public static List<LotTest> Tests(SqliteConnection connection, LeftOut leftOut) => leftOut.Keep(
        connection.Rows(
            ToTest, "SELECT lot, started_at, called_at, seeds, good, fair, batch, note FROM lot_test ORDER BY started_at, number"),
        WithinBounds.WhyNot,
        test => $"A test of lot {test.Lot}");

    public static void Write(SqliteConnection connection, LeftOut leftOut, Lot lot)
    {
        connection.Execute(
            """
            INSERT INTO lot (id, crop, variety, origin, year, year_kind, counted, counted_at, price, bought, storage, treated, parent,
              stated_share, note)
            VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15)
            ON CONFLICT DO UPDATE SET crop = excluded.crop, variety = excluded.variety, origin = excluded.origin, year = excluded.year,
              year_kind = excluded.year_kind, counted = excluded.counted, counted_at = excluded.counted_at, price = excluded.price,
              bought = excluded.bought, storage = excluded.storage, treated = excluded.treated, parent = excluded.parent,
              stated_share = excluded.stated_share, note = excluded.note
            """,
            lot.Id.Text, lot.Crop.Text, lot.Variety, lot.Origin.ToString(), lot.Year, lot.YearKind.ToString(), lot.Counted,
            lot.CountedAt.Milliseconds(), lot.Price?.Invariant(), lot.Bought, lot.Storage.ToString(), lot.Treated, lot.Parent?.Text,
            lot.StatedShare, lot.Note);
        leftOut.Forget(Named(lot));
    }

    public static void Write(SqliteConnection connection, LotTest test) => connection.Execute(
        "INSERT INTO lot_test (lot, started_at, called_at, seeds, good, fair, batch, note) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
        test.Lot.Text, test.StartedAt.Milliseconds(), test.CalledAt.Milliseconds(), test.Seeds, test.Good, test.Fair, test.Batch?.Text,
        test.Note);

    public static void Delete(SqliteConnection connection, LotTest test) => connection.Execute(
        "DELETE FROM lot_test WHERE lot = ?1 AND started_at = ?2", test.Lot.Text, test.StartedAt.Milliseconds());

    private static List<Lot> Kept(LeftOut leftOut, List<Lot> lots) => leftOut.Keep(
        lots, lot => WithinBounds.WhyNot(lot) is { } why ? $"{why} To put it right, add it again under its name." : null, Named);

    private static string Named(Lot lot) => $"Lot {lot.Id}";

    private static Lot ToLot(SqliteDataReader row) => new(
        new(row.GetString(0)), new(row.GetString(1)), row.Text(2), row.Word<SeedOrigin>(3), row.MaybeCount(4), row.Word<LotYearKind>(5),
        row.Count(6), row.Moment(7), row.Text(8) is { } price ? decimal.Parse(price, CultureInfo.InvariantCulture) : null,
        row.MaybeCount(9), row.Word<SeedStorage>(10), row.GetBoolean(11), row.Text(12) is { } parent ? new LotId(parent) : null,
        row.Real(13), row.Text(14));

    private static LotTest ToTest(SqliteDataReader row) => new(
        new(row.GetString(0)), row.Moment(1), row.MaybeMoment(2), row.Count(3), row.Count(4), row.GetBoolean(5),
        row.Text(6) is { } batch ? new BatchId(batch) : null, row.Text(7));
}
