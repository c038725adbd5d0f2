using Chamber.Service.Configuration;
using Chamber.Service.Ground;
using Chamber.Storage.Moving;
using NodaTime;

namespace Chamber.Club.Store;

/// <summary>What is set for a home of the club.</summary>
internal static class SettingRows
{
    /// <summary>What is set has so many characters at most.</summary>
    public const int LengthMax = 100_000;

    /// <summary>As it was written; null where nothing is set.</summary>
    public static Task<string?> ReadAsync(HomeSession session, int home) =>
        session.OneAsync<string>("SELECT body FROM setting WHERE home = $1", home);

    /// <exception cref="FormatException">It cannot be used; the message says where and why.</exception>
    public static Task<int> PutAsync(HomeSession session, int home, string text)
    {
        _ = Checked(text);
        return session.ExecuteAsync(
            """
            INSERT INTO setting (home, body) VALUES ($1, $2)
            ON CONFLICT (home) DO UPDATE SET body = excluded.body, changed = clock_timestamp()
            """, home, text);
    }

    /// <summary>What is set for homes and was changed at a time or later, by their names.</summary>
    public static Task<List<(string Home, string Text, Instant Changed)>> SinceAsync(HomeSession session, Instant from) =>
        session.RowsAsync(
            "SELECT h.name, s.body, s.changed FROM setting s JOIN home h ON h.key = s.home WHERE s.changed >= $1",
            row => (row.GetString(0), row.GetString(1), row.GetFieldValue<Instant>(2)),
            from);

    /// <summary>Notes that the digest of a day was put into the outbox.</summary>
    /// <returns>Whether it was not there yet.</returns>
    public static async Task<bool> BeginDigestAsync(HomeSession session, int home, LocalDate day) => await session.ExecuteAsync(
        """
        INSERT INTO digest (home, day) VALUES ($1, $2)
        ON CONFLICT (home) DO UPDATE SET day = excluded.day WHERE digest.day < excluded.day
        """, home, day) > 0;

    /// <summary>The settings of a home of the club. Where nothing is set days are those of UTC; what cannot be used, as after a version
    /// that could use it, counts for nothing.</summary>
    public static Settings Of(string? text)
    {
        try
        {
            return Here(text is null ? new() : OwnSettings.Read(HomeFolder.Settings, text, ClubHomeContext.Data));
        }
        catch (BadInputException)
        {
            return Here(new());
        }
    }

    /// <summary>The same of what somebody has just written.</summary>
    /// <exception cref="FormatException">It cannot be used; the message says where and why.</exception>
    public static Settings Checked(string text)
    {
        try
        {
            return text.Length > LengthMax ? throw new FormatException($"The settings are longer than {LengthMax} characters.")
                : Here(OwnSettings.Read(HomeFolder.Settings, text, ClubHomeContext.Data));
        }
        catch (BadInputException problem)
        {
            throw new FormatException(problem.Message, problem);
        }
    }

    private static Settings Here(Settings own) =>
        own with { Home = own.Home with { Zone = own.Home.Zone ?? DateTimeZone.Utc }, Broker = new() { Own = false } };
}
