using Chamber.Core.Facts;
using Chamber.Storage.Files;
using Chamber.Storage.Records;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Facts;

/// <summary>New names, where the tables know things by name beyond what the facts come to: numbers of probes, and alerts.</summary>
internal static class Names
{
    /// <summary>Takes back the names that no longer hold, the latest first, and gives those that are new.</summary>
    public static void Write(
        SqliteConnection connection,
        IReadOnlyList<(FactSubject From, FactSubject To)> before,
        IReadOnlyList<(FactSubject From, FactSubject To)> after)
    {
        var same = before.Zip(after).TakeWhile(pair => pair.First == pair.Second).Count();
        foreach (var (from, to) in before.Skip(same).Reverse())
        {
            if (from.Kind == FactSubjectKind.Probe)
            {
                SetUpRows.RenameBack(connection, from.Name, to.Name);
            }

            RenameAlerts(connection, to, from);
        }

        foreach (var (from, to) in after.Skip(same))
        {
            if (from.Kind == FactSubjectKind.Probe)
            {
                SetUpRows.Rename(connection, from.Name, to.Name);
            }

            RenameAlerts(connection, from, to);
        }
    }

    private static void RenameAlerts(SqliteConnection connection, FactSubject from, FactSubject to) => connection.Execute(
        "UPDATE alert SET subject = ?3 WHERE subject_kind = ?1 AND subject = ?2", from.Kind.ToString(), from.Name, to.Name);
}
