using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage;

/// <summary>A notice that was to be sent.</summary>
/// <param name="Number">Its number, growing.</param>
/// <param name="Channel">By which way.</param>
/// <param name="Payload">What to send, in the channel's own form.</param>
/// <param name="CreatedAt">Since when it waits.</param>
/// <param name="Attempts">How often it was tried.</param>
/// <param name="NextAt">When to try again; null when it was given up.</param>
/// <param name="Error">What the last attempt came to, or null.</param>
public sealed record QueuedNotice(long Number, string Channel, string Payload, Instant CreatedAt, int Attempts,
    Instant? NextAt, string? Error)
{
    /// <summary>Given up: kept for somebody to see.</summary>
    public bool IsDead => NextAt is null;
}

/// <summary>Notices that wait to be sent, so that none is lost between the alert and the world. Bounded: see <see cref="WaitingMax"/> and
/// <see cref="DeadMax"/>.</summary>
public sealed class NoticeOutbox
{
    /// <summary>So many may wait in one channel; beyond that the oldest is given up.</summary>
    public const int WaitingMax = 200;

    /// <summary>So many that were given up are kept; older ones are let go.</summary>
    public const int DeadMax = 200;

    /// <summary>Of so many that were sent the names are kept.</summary>
    public const int SentMax = 2000;

    /// <summary>No notice waits longer than this for its next try.</summary>
    public static readonly Duration WaitMax = Duration.FromMinutes(450);

    private const string Columns = "SELECT number, channel, payload, created_at, attempts, next_at, error FROM notice";

    private readonly Database database;

    internal NoticeOutbox(Database database) => this.database = database;

    /// <summary>Lets a notice wait, unless one with this name waits, was given up or was sent in this channel before.</summary>
    /// <param name="channel">By which way.</param>
    /// <param name="name">The notice's own name, the same however often it is decided upon.</param>
    /// <param name="payload">What to send.</param>
    /// <param name="at">Since when it waits, and when it is first due.</param>
    /// <returns>Whether it is new.</returns>
    public bool Add(string channel, string name, string payload, Instant at) => database.WriteDown(connection =>
    {
        if (connection.Whole("SELECT EXISTS (SELECT 1 FROM notice WHERE channel = ?1 AND name = ?2) OR EXISTS (SELECT 1 FROM notice_sent "
            + "WHERE channel = ?1 AND name = ?2)", channel, name) != 0)
        {
            return false;
        }

        connection.Execute("INSERT INTO notice (channel, name, payload, created_at, next_at) VALUES (?1, ?2, ?3, ?4, ?4)", channel, name,
            payload, at.Milliseconds());
        var waiting = connection.Whole("SELECT count(*) FROM notice WHERE channel = ?1 AND next_at IS NOT NULL", channel);
        if (waiting > WaitingMax)
        {
            connection.Execute(
                "UPDATE notice SET next_at = NULL, error = 'Too many were waiting in this channel.' WHERE number IN (SELECT number FROM "
                    + "notice WHERE channel = ?1 AND next_at IS NOT NULL ORDER BY number LIMIT ?2)",
                channel, waiting - WaitingMax);
            LetGo(connection);
        }

        return true;
    });

    /// <summary>Those that wait, oldest first.</summary>
    public IReadOnlyList<QueuedNotice> Waiting(int limit = 100) => database.Read(connection =>
        connection.Rows(ToNotice, Columns + " WHERE next_at IS NOT NULL ORDER BY number LIMIT ?1", limit));

    /// <summary>Notices that are due, oldest first, so many of each channel: one that many wait for takes no turn from another. What
    /// would be due later than <see cref="WaitMax"/> was put there by a clock that has since been put back.</summary>
    public IReadOnlyList<QueuedNotice> Due(Instant now, int limit = 50) => database.Read(connection => connection.Rows(
        ToNotice, Columns.Replace("FROM notice", "FROM (SELECT *, row_number() OVER (PARTITION BY channel ORDER BY number) AS place FROM "
            + "notice WHERE next_at <= ?1 OR next_at > ?3) WHERE place <= ?2 ORDER BY number", StringComparison.Ordinal),
            now.Milliseconds(), limit, (now + WaitMax).Milliseconds()));

    /// <summary>When the next one's time comes, by channel; a channel in which none waits is not named.</summary>
    public IReadOnlyDictionary<string, Instant> NextByChannel() => database.Read(connection => connection.Rows(
        row => (Channel: row.GetString(0), At: row.Moment(1)),
            "SELECT channel, min(next_at) FROM notice WHERE next_at IS NOT NULL GROUP BY channel")
            .ToDictionary(row => row.Channel, row => row.At, StringComparer.Ordinal));

    /// <summary>When the next one's time comes; null when none waits.</summary>
    public Instant? NextAt() => NextByChannel().Values.Cast<Instant?>().Min();

    /// <summary>Those that were given up, newest first.</summary>
    public IReadOnlyList<QueuedNotice> Dead(int limit = 100) => database.Read(connection =>
        connection.Rows(ToNotice, Columns + " WHERE next_at IS NULL ORDER BY number DESC LIMIT ?1", limit));

    /// <summary>It has been sent.</summary>
    public void Sent(long number, Instant at) => database.WriteDown(connection =>
    {
        connection.Execute("INSERT OR REPLACE INTO notice_sent (channel, name, at) SELECT channel, name, ?2 FROM notice WHERE number = ?1 "
            + "AND name IS NOT NULL", number, at.Milliseconds());
        connection.Execute("DELETE FROM notice WHERE number = ?1", number);
        connection.Execute("DELETE FROM notice_sent WHERE at < (SELECT at FROM notice_sent ORDER BY at DESC LIMIT 1 OFFSET ?1)",
            SentMax - 1);
    });

    /// <summary>When each channel last took a notice.</summary>
    public IReadOnlyDictionary<string, Instant> LastSent() => database.Read(connection => connection.Rows(
        row => (Channel: row.GetString(0), At: row.Moment(1)), "SELECT channel, max(at) FROM notice_sent GROUP BY channel")
            .ToDictionary(row => row.Channel, row => row.At, StringComparer.Ordinal));

    /// <summary>It could not be sent.</summary>
    /// <param name="number">Which one.</param>
    /// <param name="error">Why.</param>
    /// <param name="nextAt">When to try again; null gives it up.</param>
    public void Failed(long number, string error, Instant? nextAt) => database.WriteDown(connection =>
    {
        connection.Execute("UPDATE notice SET attempts = attempts + 1, error = ?2, next_at = ?3 WHERE number = ?1", number, error,
            nextAt.Milliseconds());
        LetGo(connection);
    });

    /// <summary>Tries a given-up one again.</summary>
    public void Revive(long number, Instant at) => database.WriteDown(connection => LedgerRefusedException.When(
        connection.Execute("UPDATE notice SET next_at = ?2, attempts = 0 WHERE number = ?1 AND next_at IS NULL", number,
            at.Milliseconds()) == 0,
        $"There is no given-up notice {number}."));

    /// <summary>Takes one away, waiting or given up.</summary>
    public void Drop(long number) => database.WriteDown(connection => LedgerRefusedException.When(
        connection.Execute("DELETE FROM notice WHERE number = ?1", number) == 0,
        $"There is no notice {number}."));

    /// <summary>Takes away all that were given up.</summary>
    /// <returns>How many.</returns>
    public int DropDead() => database.WriteDown(connection => connection.Execute("DELETE FROM notice WHERE next_at IS NULL"));

    private static void LetGo(SqliteConnection connection) => connection.Execute(
        "DELETE FROM notice WHERE next_at IS NULL AND number NOT IN (SELECT number FROM notice WHERE next_at IS NULL ORDER BY "
            + "number DESC LIMIT ?1)",
        DeadMax);

    private static QueuedNotice ToNotice(SqliteDataReader row) => new(
        row.GetInt64(0), row.GetString(1), row.GetString(2), row.Moment(3), row.GetInt32(4), row.MaybeMoment(5), row.Text(6));
}
