using System.Text.Json;
using Chamber.Club.Store;
using Chamber.Service.Notify;
using NodaTime;

namespace Chamber.Club.Notices;

/// <summary>A notice that waits to be sent to one address.</summary>
/// <param name="Number">Its number among those of the home.</param>
/// <param name="Mail">Where to.</param>
/// <param name="Notice">What it says.</param>
/// <param name="Tries">How often it was tried.</param>
internal sealed record WaitingNotice(long Number, string Mail, Notice Notice, int Tries);

/// <summary>A notice that was given up.</summary>
/// <param name="Mail">Where it was to go.</param>
/// <param name="Title">What it was about.</param>
/// <param name="Reason">Why, with what to do.</param>
public sealed record GivenUpNotice(string Mail, string Title, string Reason);

/// <summary>The outbox of a home: who gets its notices, and what waits to be sent.</summary>
internal static class NoticeRows
{
    /// <summary>A home has so many addresses, at most.</summary>
    public const int AddressesMax = 20;

    private const int DueMax = 50;

    // Of those that were given up the newest are kept.
    private const int GivenUpMax = 100;

    public static Task<List<string>> AddressesAsync(HomeSession session, int home) => session.RowsAsync(
        "SELECT mail FROM address WHERE home = $1 ORDER BY mail", row => row.GetString(0), home);

    /// <returns>Whether it is new.</returns>
    public static async Task<bool> AddAsync(HomeSession session, int home, string mail) => await session.ExecuteAsync(
        "INSERT INTO address (home, mail) VALUES ($1, $2) ON CONFLICT DO NOTHING", home, mail) > 0;

    /// <summary>Takes an address out, with what waits for it.</summary>
    /// <returns>Whether it was there.</returns>
    public static async Task<bool> RemoveAsync(HomeSession session, int home, string mail)
    {
        await session.ExecuteAsync("DELETE FROM notice WHERE home = $1 AND mail = $2", home, mail);
        return await session.ExecuteAsync("DELETE FROM address WHERE home = $1 AND mail = $2", home, mail) > 0;
    }

    /// <summary>Lets a notice wait for each address that has not had it.</summary>
    public static Task<int> PutAsync(HomeSession session, int home, Notice notice, Instant due) => session.ExecuteAsync(
        """
        INSERT INTO notice (home, name, mail, body, due) SELECT $1, $2, mail, $3::json, $4 FROM address WHERE home = $1
        ON CONFLICT (home, name, mail) DO NOTHING
        """,
        home, notice.Id, JsonSerializer.Serialize(NoticePayload.From(notice)), due);

    /// <summary>What is due, oldest first.</summary>
    public static Task<List<WaitingNotice>> DueAsync(HomeSession session, int home, Instant now) => session.RowsAsync(
        "SELECT number, mail, body, tries FROM notice WHERE home = $1 AND due <= $2 ORDER BY number LIMIT $3",
        row => new WaitingNotice(row.GetInt64(0), row.GetString(1),
            JsonSerializer.Deserialize<NoticePayload>(row.GetString(2))!.ToNotice(), row.GetInt32(3)),
        home, now, DueMax);

    public static Task<long> WaitingAsync(HomeSession session, int home) =>
        session.OneAsync<long>("SELECT count(*) FROM notice WHERE home = $1 AND due IS NOT NULL", home);

    public static Task<int> SentAsync(HomeSession session, int home, long number) =>
        session.ExecuteAsync("DELETE FROM notice WHERE home = $1 AND number = $2", home, number);

    /// <summary>It is tried again then; without a time it is given up.</summary>
    public static async Task<int> FailedAsync(HomeSession session, int home, long number, string reason, Instant? again)
    {
        var changed = await session.ExecuteAsync(
            "UPDATE notice SET tries = tries + 1, reason = $3, due = $4 WHERE home = $1 AND number = $2", home, number, reason, again);
        return changed + (again is not null ? 0 : await session.ExecuteAsync(
            """
            DELETE FROM notice WHERE home = $1 AND due IS NULL AND number NOT IN
              (SELECT number FROM notice WHERE home = $1 AND due IS NULL ORDER BY number DESC LIMIT $2)
            """,
            home, GivenUpMax));
    }

    /// <summary>Those that were given up, the newest first.</summary>
    public static Task<List<GivenUpNotice>> GivenUpAsync(HomeSession session, int home) => session.RowsAsync(
        "SELECT mail, body ->> 'Title', reason FROM notice WHERE home = $1 AND due IS NULL ORDER BY number DESC",
        row => new GivenUpNotice(row.GetString(0), row.GetString(1), row.GetString(2)), home);

    /// <summary>What people were notified of about an alert.</summary>
    public static Task<int> NotifiedAsync(HomeSession session, int home, long alert, NotifiedEntry notified) => session.ExecuteAsync(
        """
        UPDATE alert SET notified = $3, notified_severity = $4, notified_severity_since = $5, notified_times = $6, notified_over = $7
        WHERE home = $1 AND number = $2
        """,
        home, alert, notified.At, notified.Severity?.ToString(), notified.SeverityAt, notified.Times, notified.Over);
}
