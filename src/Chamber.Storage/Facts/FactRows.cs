using Chamber.Core.Facts;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Facts;

/// <summary>Between entries and the one table that they are kept in: rows are added, and never changed or taken away.</summary>
internal static class FactRows
{
    /// <summary>The number of the newest entry; 0 when there is none.</summary>
    public static long Last(SqliteConnection connection) => connection.Whole("SELECT coalesce(max(number), 0) FROM fact");

    /// <summary>Entries with a higher number than one, in order.</summary>
    public static List<FactEntry> Since(SqliteConnection connection, long number) => connection.Rows(
        row => new FactEntry(
            row.GetInt64(0), row.GetInt64(1), FactJson.Read(row.GetString(6), row.GetString(7)), row.Moment(2), row.Moment(3),
            new(row.GetString(4), row.Word<WriteWay>(5))),
        "SELECT number, act, at, written, who, way, kind, body FROM fact WHERE number > ?1 ORDER BY number",
        number);

    public static void Insert(SqliteConnection connection, FactEntry entry) => connection.Execute(
        "INSERT INTO fact (number, act, at, written, who, way, kind, version, body) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
        entry.Number, entry.Act, entry.At.Milliseconds(), entry.WrittenAt.Milliseconds(), entry.By.Who, entry.By.Way.ToString(),
        FactKinds.NameOf(entry.Fact), FactJson.Version, FactJson.Write(entry.Fact));

    /// <summary>Says which entries count for nothing: of one thing only the first, since the others rest on it.</summary>
    public static bool TellLeftOut(SqliteConnection connection, LeftOut leftOut)
    {
        var rows = connection.Rows(
            row => (Number: row.GetInt64(0), Why: row.GetString(1)), "SELECT number, why FROM fact_left_out ORDER BY number");
        var told = new HashSet<FactSubject>();
        foreach (var (number, why) in rows)
        {
            var fact = Since(connection, number - 1)[0].Fact;
            if (fact.About() is [var about, ..] && told.Add(about))
            {
                leftOut.Keeps(why, () => $"Entry {number} ({FactKinds.NameOf(fact)} of {about})");
            }
        }

        return rows.Count > 0;
    }

    /// <summary>Remembers which entries count for nothing, and why, so that each run can tell.</summary>
    public static void NoteLeftOut(SqliteConnection connection, IReadOnlyList<LeftOutFact> leftOut)
    {
        connection.Execute("DELETE FROM fact_left_out");
        foreach (var (number, why) in leftOut)
        {
            connection.Execute("INSERT INTO fact_left_out (number, why) VALUES (?1, ?2)", number, why.ToString());
        }
    }
}
