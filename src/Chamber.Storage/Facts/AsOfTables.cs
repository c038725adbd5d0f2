using System.Globalization;
using Chamber.Core.Facts;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Facts;

/// <summary>
/// What was known at a moment, laid over the tables of a connection: temporary tables and views of the same names, which SQLite finds
/// first. So every question is asked as ever, and answered from facts written and readings received by then. The file is not touched.
/// </summary>
/// <remarks>Of alerts is known when they opened and closed, and what people did about them; how severe they were meanwhile is not. A
/// stretch that was rolled up, and what filled in a reading, count as received when they were measured.</remarks>
internal sealed class AsOfTables
{
    /// <summary>Tables that the facts fill.</summary>
    internal static readonly string[] Folded = ["spot", "station", "calibration", "set_aside", "former_probe", "crop", "lot", "lot_test",
        "batch", "stay", "look", "stage", "loss", "wetting", "photo", "maintenance", "note", "own_limit", "fact_left_out"];

    private readonly Instant known;
    private readonly FactLog log;
    private readonly HomeState present;

    /// <param name="entries">All entries that there are, in order of number.</param>
    /// <param name="known">The moment.</param>
    public AsOfTables(IReadOnlyList<FactEntry> entries, Instant known)
    {
        this.known = known;
        log = FactLog.Of([.. entries.Where(entry => entry.WrittenAt <= known)]);
        present = log.Entries.Count == entries.Count ? log.Home : FactLog.Of(entries).Home;
    }

    public void Lay(SqliteConnection connection)
    {
        connection.Execute("PRAGMA query_only = OFF; PRAGMA foreign_keys = OFF; BEGIN");
        foreach (var table in Folded)
        {
            Shadow(connection, table);
        }

        LayJournal(connection);
        LayProbes(connection);
        LayRecords(connection);
        Names.Write(connection, present.Renamed, log.Home.Renamed);
        Snapshot.WriteTables(connection, new(), HomeState.Empty, log.Home);
        FactRows.NoteLeftOut(connection, log.LeftOut);
        connection.Execute("COMMIT; PRAGMA query_only = ON");
    }

    private void LayJournal(SqliteConnection connection)
    {
        var then = known.Milliseconds().ToString(CultureInfo.InvariantCulture);
        connection.Execute(
            $"""
            CREATE TEMP VIEW reading AS SELECT * FROM main.reading WHERE at + received <= {then};
            CREATE TEMP VIEW rolled AS SELECT * FROM main.rolled WHERE at + span <= {then};
            CREATE TEMP VIEW last_known AS SELECT * FROM main.last_known WHERE received <= {then};
            CREATE TEMP VIEW refusal AS SELECT * FROM main.refusal WHERE received <= {then};
            CREATE TEMP VIEW fact AS SELECT * FROM main.fact WHERE written <= {then};
            """);
    }

    // Readings know their probe by its number, which it keeps; one that had not spoken yet is there only if it was set up.
    private static void LayProbes(SqliteConnection connection)
    {
        Shadow(connection, "probe");
        connection.Execute(
            """
            INSERT INTO temp.probe (key, id) SELECT key, id FROM main.probe
            WHERE EXISTS (SELECT 1 FROM temp.reading WHERE probe = key) OR EXISTS (SELECT 1 FROM temp.rolled WHERE probe = key)
              OR EXISTS (SELECT 1 FROM temp.last_known WHERE probe = key)
            """);
    }

    // What is no fact: alerts as they stood, outages, and what the program remembers for itself.
    private void LayRecords(SqliteConnection connection)
    {
        var then = known.Milliseconds();
        Shadow(connection, "alert");
        connection.Execute(
            """
            INSERT INTO temp.alert (number, kind, subject_kind, subject, severity, since, opened_at, closed_at, close_reason, evidence)
            SELECT number, kind, subject_kind, subject, severity, since, opened_at, iif(closed_at <= ?1, closed_at, NULL),
              iif(closed_at <= ?1, close_reason, NULL), evidence FROM main.alert WHERE opened_at <= ?1
            """,
            then);
        Shadow(connection, "outage");
        connection.Execute(
            """
            INSERT INTO temp.outage (number, start, end, cause)
            SELECT number, start, iif(end <= ?1, end, NULL), cause FROM main.outage WHERE start <= ?1
            """,
            then);
        Shadow(connection, "setting");
        connection.Execute("INSERT INTO temp.setting SELECT * FROM main.setting WHERE chosen = 0");
    }

    private static void Shadow(SqliteConnection connection, string table)
    {
        const string create = "CREATE TABLE ";
        var sql = connection.Text("SELECT sql FROM main.sqlite_schema WHERE type = 'table' AND name = ?1", table);
        connection.Execute("CREATE TEMP TABLE " + sql![create.Length..]);
    }
}
