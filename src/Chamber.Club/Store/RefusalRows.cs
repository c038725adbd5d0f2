using Chamber.Core.Climate;

namespace Chamber.Club.Store;

/// <summary>What was not used, raw; of each home the newest are kept.</summary>
internal static class RefusalRows
{
    public static async Task AppendAsync(HomeSession session, int home, IReadOnlyList<Refusal> refusals, int keep)
    {
        if (refusals.Count == 0)
        {
            return;
        }

        var rows = refusals.Skip(refusals.Count - keep).ToList();
        await session.ExecuteAsync(
            """
            INSERT INTO refusal (home, received, source, probe, quantity, reason, raw, fix)
            SELECT $1, * FROM unnest($2, $3, $4, $5, $6, $7, $8)
            """,
            home, rows.Select(one => one.ReceivedAt).ToArray(), rows.Select(one => one.Source).ToArray(),
            rows.Select(one => one.Probe?.Text).ToArray(), rows.Select(one => one.Quantity).ToArray(),
            rows.Select(one => one.Reason.ToString()).ToArray(), rows.Select(one => Cut(one.Raw)).ToArray(),
            rows.Select(one => one.Fix).ToArray());
        await session.ExecuteAsync(
            """
            DELETE FROM refusal WHERE home = $1
              AND number <= (SELECT number FROM refusal WHERE home = $1 ORDER BY number DESC OFFSET $2 LIMIT 1)
            """,
            home, keep);
    }

    // PostgreSQL takes every letter but one.
    private static string Cut(string raw) =>
        (raw.Length <= Refusal.RawLengthMax ? raw : raw[..Refusal.RawLengthMax]).Replace('\0', '�');
}
