using Chamber.Core.Facts;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Facts;

/// <summary>What people did about alerts, beside what the watch says of them.</summary>
internal static class AlertMarks
{
    /// <summary>Notes what is new. Where something was taken back, the alerts concerned are marked again from what still holds.</summary>
    public static void Write(SqliteConnection connection, IReadOnlyList<AlertMark> before, IReadOnlyList<AlertMark> after)
    {
        var again = before.Except(after).Select(mark => (mark.Condition, mark.About)).ToHashSet();
        foreach (var (condition, about) in again)
        {
            connection.Execute(
                "UPDATE alert SET seen_at = NULL, seen_by = NULL, muted_until = NULL WHERE kind = ?1 AND subject_kind = ?2 AND subject = ?3",
                condition, about.Kind.ToString(), about.Name);
        }

        var known = before.ToHashSet();
        foreach (var mark in after.Where(mark => again.Contains((mark.Condition, mark.About)) || !known.Contains(mark)))
        {
            Mark(connection, mark);
        }
    }

    private static void Mark(SqliteConnection connection, AlertMark mark)
    {
        // The one that was open then, or the last one before.
        const string open =
            """
             WHERE number = (SELECT number FROM alert WHERE kind = ?1 AND subject_kind = ?2 AND subject = ?3 AND opened_at <= ?4
               ORDER BY opened_at DESC, number DESC LIMIT 1)
            """;
        var at = mark.At.Milliseconds();
        if (mark.SeenBy is { } by)
        {
            connection.Execute(
                "UPDATE alert SET seen_at = ?4, seen_by = ?5" + open, mark.Condition, mark.About.Kind.ToString(), mark.About.Name, at, by);
        }
        else
        {
            connection.Execute(
                "UPDATE alert SET muted_until = ?5" + open,
                mark.Condition, mark.About.Kind.ToString(), mark.About.Name, at, mark.MutedUntil.Milliseconds());
        }
    }
}
