using Chamber.Club.Intake;
using Chamber.Club.Store;
using NodaTime;

namespace Chamber.Club.Pages;

/// <summary>A home as whoever looks after the club sees it.</summary>
/// <param name="Name">Its name.</param>
/// <param name="People">How many belong to it.</param>
/// <param name="HeardAt">When its newest reading was measured; null before the first.</param>
/// <param name="AMinute">Readings a minute, over the last <see cref="ClubState.Span"/>.</param>
public sealed record HomeLoad(string Name, long People, Instant? HeardAt, double AMinute)
{
    // A thermometer is read twice a day.
    private static readonly Duration HeardWithin = Duration.FromDays(1);

    /// <summary>Whether it was heard before, and not for a day now.</summary>
    public bool IsSilentAt(Instant now) => HeardAt < now - HeardWithin;
}

/// <summary>A silo that takes part.</summary>
/// <param name="Address">Where it is.</param>
/// <param name="AliveAt">When it said so last.</param>
public sealed record SiloState(string Address, Instant AliveAt);

/// <summary>Load and health of a club, and nothing of what is in its homes.</summary>
/// <param name="At">When it was so, by the clock of the database.</param>
/// <param name="Homes">By name, at most <see cref="HomesMax"/>.</param>
/// <param name="Silos">Those that watch.</param>
/// <param name="Slots">The places of the intake that somebody holds.</param>
/// <param name="Bytes">How large the database is.</param>
/// <param name="Sensors">How many sensors have an account at the broker.</param>
public sealed record ClubState(
    Instant At, IReadOnlyList<HomeLoad> Homes, IReadOnlyList<SiloState> Silos, IReadOnlyList<int> Slots, long Bytes, long Sensors)
{
    public const int HomesMax = 1_000;

    /// <summary>Over so long readings are counted.</summary>
    public static readonly Duration Span = Duration.FromMinutes(10);

    // Active, as Orleans numbers what a silo can be.
    internal const int Active = 3;

    internal static Task<ClubState> ReadAsync(ClubDatabase club, CancellationToken cancel) => club.AsKeeperAsync(async session =>
        new ClubState(
            await session.OneAsync<Instant>("SELECT now()"),
            await session.RowsAsync(
                """
                SELECT h.name, (SELECT count(*) FROM membership m WHERE m.home = h.key),
                    (SELECT max(p.newest) FROM probe p WHERE p.home = h.key),
                    (SELECT count(*) FROM probe p JOIN reading r ON r.home = p.home AND r.probe = p.key AND r.at > now() - $2::interval
                        AND r.at <= now() WHERE p.home = h.key)
                FROM home h ORDER BY h.name LIMIT $1
                """,
                row => new HomeLoad(row.GetString(0), row.GetInt64(1), row.IsDBNull(2) ? null : row.GetFieldValue<Instant>(2),
                    row.GetInt64(3) / Span.TotalMinutes),
                HomesMax, Span),
            await session.RowsAsync(
                "SELECT address, port, alive FROM silo WHERE status = $1 ORDER BY address, port",
                row => new SiloState(FormattableString.Invariant($"{row.GetString(0)}:{row.GetInt32(1)}"), row.GetFieldValue<Instant>(2)),
                Active),
            await session.RowsAsync(
                """
                SELECT objid::bigint FROM pg_locks WHERE locktype = 'advisory' AND classid::bigint = $1 AND objsubid = 2 AND granted
                    AND database = (SELECT oid FROM pg_database WHERE datname = current_database()) ORDER BY objid
                """,
                row => (int)row.GetInt64(0), (long)IntakeSlot.LockOfSlots),
            await session.OneAsync<long>("SELECT pg_database_size(current_database())"),
            await session.OneAsync<long>("SELECT count(*) FROM sensor")), cancel);
}

/// <summary>The sums of it, which cost little.</summary>
/// <param name="Silos">So many silos are at work.</param>
/// <param name="Homes">So many homes there are.</param>
/// <param name="Bytes">How large the database is.</param>
internal sealed record ClubTotals(long Silos, long Homes, long Bytes)
{
    public static Task<ClubTotals> ReadAsync(ClubDatabase club, CancellationToken cancel) => club.AsKeeperAsync(async session =>
        new ClubTotals(
            await session.OneAsync<long>("SELECT count(*) FROM silo WHERE status = $1", ClubState.Active),
            await session.OneAsync<long>("SELECT count(*) FROM home"),
            await session.OneAsync<long>("SELECT pg_database_size(current_database())")), cancel);
}
