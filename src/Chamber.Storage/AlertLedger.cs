using System.Text.Json;
using Chamber.Core.Alerts;
using Chamber.Core.Facts;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage;

/// <summary>Alerts as they were reported. At most one of a kind is open for a subject.</summary>
public sealed class AlertLedger
{
    private const string Columns = "SELECT number, kind, subject_kind, subject, severity, since, opened_at, evidence, closed_at, "
        + "close_reason, seen_at, seen_by, muted_until, notified_at, notified_severity, notified_severity_at, "
        + "notified_times, notified_over FROM alert";

    private readonly Database database;

    internal AlertLedger(Database database) => this.database = database;

    /// <summary>Those that are open, oldest first.</summary>
    public IReadOnlyList<AlertEntry> Open() =>
        database.Read(connection => Alerts(connection, " WHERE closed_at IS NULL ORDER BY opened_at, number"));

    /// <summary>Those that were opened since a time, newest first.</summary>
    public IReadOnlyList<AlertEntry> Since(Instant from, int limit = 1000) => database.Read(connection =>
        Alerts(connection, " WHERE opened_at >= ?1 ORDER BY opened_at DESC, number DESC LIMIT ?2",
            from.Milliseconds(), limit));

    /// <summary>Those with a higher number than one, in order of number.</summary>
    public IReadOnlyList<AlertEntry> After(long number, int limit = 1000) => database.Read(connection =>
        Alerts(connection, " WHERE number > ?1 ORDER BY number LIMIT ?2", number, limit));

    public AlertEntry? Find(long number) =>
        database.Read(connection => Alerts(connection, " WHERE number = ?1", number) is [var found] ? found : null);

    /// <summary>Records an alert: number 0 adds it, any other number changes what Core says of that one and leaves what people
    /// did.</summary>
    /// <returns>Its number.</returns>
    public long Save(AlertEntry alert) => database.WriteDown(connection =>
    {
        LedgerRefusedException.When(!IsJson(alert.EvidenceJson), "The evidence of an alert is JSON.");
        return alert.Number == 0 ? Add(connection, alert) : Change(connection, alert);
    });

    /// <summary>People were notified of it.</summary>
    public void Tell(long number, NotifiedEntry notified) => database.WriteDown(connection => connection.Execute(
        "UPDATE alert SET notified_at = ?2, notified_severity = ?3, notified_severity_at = ?4, notified_times = ?5, notified_over = ?6 "
        + "WHERE number = ?1",
        number, notified.At.Milliseconds(), notified.Severity?.ToString(), notified.SeverityAt.Milliseconds(), notified.Times,
        notified.Over ? 1 : 0));

    /// <summary>Those open, and those closed since a time: what may be to tell.</summary>
    public IReadOnlyList<AlertEntry> OpenOrClosedSince(Instant from) => database.Read(connection =>
        Alerts(connection, " WHERE closed_at IS NULL OR closed_at >= ?1 ORDER BY opened_at, number", from.Milliseconds()));

    /// <summary>Lets go of alerts that were closed before a time.</summary>
    /// <returns>How many.</returns>
    public int Forget(Instant closedBefore) =>
        database.WriteDown(connection => connection.Execute("DELETE FROM alert WHERE closed_at < ?1", closedBefore.Milliseconds()));

    /// <summary>Times in which nothing could be heard, in order of time.</summary>
    public IReadOnlyList<OutageEntry> Outages() => database.Read(connection => database.LeftOut.Keep(
        connection.Rows(
            row => new OutageEntry(row.Stretch(0, 1), row.Word<OutageCause>(2)),
            "SELECT start, end, cause FROM outage ORDER BY start"),
        outage => WithinBounds.WhyNot(outage.When),
        outage => $"A time in which nothing was heard ({outage.Cause})"));

    /// <summary>Records an outage; one of the same cause and start is replaced, as when its end becomes known.</summary>
    public void Save(OutageEntry outage) => database.WriteDown(connection =>
    {
        connection.Execute("DELETE FROM outage WHERE start = ?1 AND cause = ?2", outage.When.Start.Milliseconds(), outage.Cause.ToString());
        connection.Execute("INSERT INTO outage (start, end, cause) VALUES (?1, ?2, ?3)", outage.When.Start.Milliseconds(),
            outage.When.HasEnd ? outage.When.End.Milliseconds() : null, outage.Cause.ToString());
    });

    private static long Add(SqliteConnection connection, AlertEntry alert)
    {
        LedgerRefusedException.When(
            alert.ClosedAt is null
                && connection.Whole("SELECT count(*) FROM alert WHERE kind = ?1 AND subject_kind = ?2 AND subject = ?3 AND closed_at IS "
                + "NULL", alert.Kind.Name, alert.Subject.Kind.ToString(), alert.Subject.Name) > 0,
            $"An alert {alert.Kind} is open for {alert.Subject} already.");
        return connection.Insert(
            """
            INSERT INTO alert (kind, subject_kind, subject, severity, since, opened_at, evidence, closed_at, close_reason, seen_at, seen_by, muted_until)
            VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12)
            """,
            alert.Kind.Name, alert.Subject.Kind.ToString(), alert.Subject.Name, alert.Severity.ToString(), alert.Since.Milliseconds(),
            alert.OpenedAt.Milliseconds(),
                alert.EvidenceJson,
            alert.ClosedAt.Milliseconds(), alert.CloseReason?.ToString(), alert.SeenAt.Milliseconds(), alert.SeenBy,
            alert.MutedUntil.Milliseconds());
    }

    private static long Change(SqliteConnection connection, AlertEntry alert)
    {
        var changed = connection.Execute(
            "UPDATE alert SET severity = ?2, since = ?3, opened_at = ?4, evidence = ?5, closed_at = ?6, close_reason = ?7 "
                + "WHERE number = ?1",
            alert.Number, alert.Severity.ToString(), alert.Since.Milliseconds(), alert.OpenedAt.Milliseconds(), alert.EvidenceJson,
                alert.ClosedAt.Milliseconds(), alert.CloseReason?.ToString());
        LedgerRefusedException.When(changed == 0, $"There is no alert {alert.Number}.");
        return alert.Number;
    }

    private static bool IsJson(string text)
    {
        try
        {
            using var document = JsonDocument.Parse(text);
            return true;
        }
        catch (JsonException)
        {
            return false;
        }
    }

    private static List<AlertEntry> Alerts(SqliteConnection connection, string where, params ReadOnlySpan<object?> values) =>
        [.. connection.Rows(ToAlert, Columns + where, values).OfType<AlertEntry>()];

    // Null for one that another version wrote in words that this one does not have.
    private static AlertEntry? ToAlert(SqliteDataReader row) =>
        Enum.TryParse<SubjectKind>(row.GetString(2), out var about) && Enum.TryParse<Severity>(row.GetString(4), out var severity)
            ? new(
                row.GetInt64(0), new(row.GetString(1)), new(about, row.GetString(3)), severity, row.Moment(5), row.Moment(6),
                    row.GetString(7))
            {
                ClosedAt = row.MaybeMoment(8),
                CloseReason = MaybeWord<CloseReason>(row, 9),
                SeenAt = row.MaybeMoment(10),
                SeenBy = row.Text(11),
                MutedUntil = row.MaybeMoment(12),
                Notified = new(row.MaybeMoment(13), MaybeWord<Severity>(row, 14), row.MaybeMoment(15), row.GetInt32(16),
                    row.GetInt64(17) != 0),
            }
            : null;

    private static T? MaybeWord<T>(SqliteDataReader row, int column)
        where T : struct, Enum => Enum.TryParse<T>(row.Text(column), out var word) ? word : null;
}
