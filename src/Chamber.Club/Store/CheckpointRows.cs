using NodaTime;

namespace Chamber.Club.Store;

/// <summary>The newest checkpoint of each home. One that bears another stamp is not there.</summary>
internal static class CheckpointRows
{
    public static Task<int> KeepAsync(HomeSession session, int home, byte[] stamp, KeptCheckpoint kept) => session.ExecuteAsync(
        """
        INSERT INTO checkpoint (home, stamp, facts, ended_after, body) VALUES ($1, $2, $3, $4, $5)
        ON CONFLICT (home) DO UPDATE SET stamp = excluded.stamp, facts = excluded.facts, ended_after = excluded.ended_after,
          body = excluded.body
        """,
        home, stamp, kept.Facts, kept.EndedAfter, kept.Body);

    public static async Task<KeptCheckpoint?> FindAsync(HomeSession session, int home, byte[] stamp) => (await session.RowsAsync(
        "SELECT facts, ended_after, body FROM checkpoint WHERE home = $1 AND stamp = $2",
        row => new KeptCheckpoint(row.GetInt64(0), row.GetFieldValue<Instant>(1), row.GetFieldValue<byte[]>(2)),
        home, stamp)).FirstOrDefault();
}

/// <summary>A checkpoint as the database keeps it.</summary>
/// <param name="Facts">It rests on the facts up to this one.</param>
/// <param name="EndedAfter">Batches that ended before are not in it.</param>
/// <param name="Body">The rest.</param>
internal sealed record KeptCheckpoint(long Facts, Instant EndedAfter, byte[] Body);
