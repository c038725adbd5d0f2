using Chamber.Core.Facts;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Records;

/// <summary>Between notes and limits of one's own and the tables they are kept in.</summary>
internal static class OwnRows
{
    public static List<Note> Notes(SqliteConnection connection) => connection.Rows(
        row => new Note(new(row.Word<FactSubjectKind>(0), row.GetString(1)), row.Moment(2), row.GetString(3)),
        "SELECT subject_kind, subject, at, text FROM note ORDER BY at, subject_kind, subject, rowid");

    public static List<OwnLimits> Limits(SqliteConnection connection) => connection.Rows(
        row => new OwnLimits(new(row.Word<FactSubjectKind>(0), row.GetString(1)), row.Real(2), row.Real(3)),
        "SELECT subject_kind, subject, too_hot, too_cold FROM own_limit ORDER BY subject_kind, subject");

    public static void Write(SqliteConnection connection, Note note) => connection.Execute(
        "INSERT INTO note (subject_kind, subject, at, text) VALUES (?1, ?2, ?3, ?4)",
        note.About.Kind.ToString(), note.About.Name, note.At.Milliseconds(), note.Text);

    public static void Delete(SqliteConnection connection, Note note) => connection.Execute(
        "DELETE FROM note WHERE subject_kind = ?1 AND subject = ?2 AND at = ?3 AND text = ?4",
        note.About.Kind.ToString(), note.About.Name, note.At.Milliseconds(), note.Text);

    public static void Write(SqliteConnection connection, OwnLimits limits) => connection.Execute(
        "INSERT INTO own_limit (subject_kind, subject, too_hot, too_cold) VALUES (?1, ?2, ?3, ?4)",
        limits.About.Kind.ToString(), limits.About.Name, limits.TooHot, limits.TooCold);

    public static void Delete(SqliteConnection connection, OwnLimits limits) => connection.Execute(
        "DELETE FROM own_limit WHERE subject_kind = ?1 AND subject = ?2", limits.About.Kind.ToString(), limits.About.Name);
}
