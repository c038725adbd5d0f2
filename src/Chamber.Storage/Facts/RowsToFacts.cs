using Chamber.Core.Facts;
using Chamber.Core.Facts.Alerts;
using Chamber.Core.Facts.Whole;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Facts;

/// <summary>
/// Files of versions 1 to 5 kept rows and not facts. Each row becomes a fact; who wrote it is not known, and when is taken to be when
/// it was true. Rows that lie beyond bounds become facts too: they count for nothing, are reported, and are not lost.
/// </summary>
internal static class RowsToFacts
{
    /// <summary>The last version that kept no facts.</summary>
    public const int LastWithout = 5;

    /// <summary>What people chose stood among what the program remembers.</summary>
    private const string Chosen =
        "UPDATE setting SET chosen = 1 WHERE name IN ('season-plan', 'page-address') OR name LIKE 'probe-unit/%'";

    public static void Run(SqliteConnection connection)
    {
        connection.Execute(Chosen);
        var everything = new LeftOut(keepsAll: true);
        var home = Snapshot.Load(connection, everything);
        var entries = new List<FactEntry>();
        foreach (var act in StateFacts.Of(home).Concat(Marks(connection)))
        {
            var first = entries.Count + 1;
            entries.AddRange(act.Select((fact, i) => new FactEntry(first + i, first, fact.Fact, fact.At, fact.At, Author.Program)));
        }

        entries.ForEach(entry => FactRows.Insert(connection, entry));
        var log = FactLog.Of(FactRows.Since(connection, 0));
        FactRows.NoteLeftOut(connection, log.LeftOut);
        Snapshot.Write(connection, everything, home, log.Home);
    }

    private static List<IReadOnlyList<DatedFact>> Marks(SqliteConnection connection) => connection.Rows(
        IReadOnlyList<DatedFact> (row) => MarkOf(row),
        """
        SELECT kind, subject_kind, subject, opened_at, seen_at, seen_by, muted_until FROM alert
        WHERE seen_at IS NOT NULL OR muted_until IS NOT NULL ORDER BY number
        """);

    private static List<DatedFact> MarkOf(SqliteDataReader row)
    {
        var about = new FactSubject(row.Word<FactSubjectKind>(1), row.GetString(2));
        var (opened, facts) = (row.Moment(3), new List<DatedFact>());
        if (row.MaybeMoment(4) is { } seen)
        {
            facts.Add(new AlertSeen(row.GetString(0), about, row.Text(5) ?? "").At(Instant.Max(opened, seen)));
        }

        if (row.MaybeMoment(6) is { } until)
        {
            facts.Add(new AlertMuted(row.GetString(0), about, until).At(opened));
        }

        return facts;
    }
}
