using Chamber.Core.Climate;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Readings;

/// <summary>Keeps the newest refusals as they came, and counts all of them for ever.</summary>
internal static class RefusalWriter
{
    /// <summary>So many different (probe, reason) pairs are counted apart; further ones are counted under no probe, unless it was set
    /// up.</summary>
    private const int PairsMax = 10_000;

    public static void Append(SqliteConnection connection, IReadOnlyList<Refusal> refusals, int keep)
    {
        if (refusals.Count == 0)
        {
            return;
        }

        foreach (var refusal in refusals.Skip(refusals.Count - keep))
        {
            Keep(connection, refusal);
        }

        foreach (var group in refusals.GroupBy(refusal => (refusal.Probe, refusal.Reason)))
        {
            Count(connection, group.Key.Probe, group.Key.Reason, group.Count(),
                group.Max(refusal => refusal.ReceivedAt).ToUnixTimeMilliseconds());
        }

        Cut(connection, keep);
    }

    /// <summary>Those of another home, counted there: what is there already stays as it is.</summary>
    /// <returns>How many are kept raw now that were not before.</returns>
    public static int TakeOver(SqliteConnection connection, IReadOnlyList<RefusalCount> counts, IReadOnlyList<Refusal> refusals, int keep)
    {
        // The same can have come twice in a millisecond.
        var there = RefusalRows.Newest(connection, keep).CountBy(one => one).ToDictionary();
        var added = refusals.Skip(refusals.Count - keep).Where(one => (there[one] = there.GetValueOrDefault(one) - 1) < 0).ToList();
        added.ForEach(refusal => Keep(connection, refusal));
        foreach (var count in counts.Take(PairsMax))
        {
            connection.Execute(
                """
                INSERT INTO refusal_count (probe, reason, count, last) VALUES (?1, ?2, ?3, ?4)
                ON CONFLICT DO UPDATE SET count = max(count, excluded.count), last = max(last, excluded.last)
                """,
                count.Probe?.Text ?? "", count.Reason.ToString(), count.Count, count.LastAt.ToUnixTimeMilliseconds());
        }

        Cut(connection, keep);
        return added.Count;
    }

    private static void Cut(SqliteConnection connection, int keep) =>
        connection.Execute("DELETE FROM refusal WHERE number <= (SELECT max(number) FROM refusal) - ?1", keep);

    private static void Keep(SqliteConnection connection, Refusal refusal) => connection.Execute(
        "INSERT INTO refusal (received, source, probe, quantity, reason, raw, fix) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        refusal.ReceivedAt.ToUnixTimeMilliseconds(),
        refusal.Source,
        refusal.Probe?.Text,
        refusal.Quantity,
        refusal.Reason.ToString(),
        refusal.Raw.Length <= Refusal.RawLengthMax ? refusal.Raw : refusal.Raw[..Refusal.RawLengthMax],
        refusal.Fix);

    private static bool IsSetUp(SqliteConnection connection, ProbeId? probe) =>
        probe is { } id && connection.Whole("SELECT EXISTS (SELECT 1 FROM probe WHERE id = ?1 AND measurand IS NOT NULL)", id.Text) != 0;

    private static void Count(SqliteConnection connection, ProbeId? probe, RefusalReason reason, int count, long last)
    {
        var changed = connection.Execute(
            "UPDATE refusal_count SET count = count + ?3, last = max(last, ?4) WHERE probe = ?1 AND reason = ?2",
            probe?.Text ?? "",
            reason.ToString(),
            count,
            last);
        if (changed > 0)
        {
            return;
        }

        var owner = connection.Whole("SELECT count(*) FROM refusal_count") < PairsMax || IsSetUp(connection, probe)
            ? probe?.Text ?? "" : "";
        connection.Execute(
            """
            INSERT INTO refusal_count (probe, reason, count, last) VALUES (?1, ?2, ?3, ?4)
            ON CONFLICT DO UPDATE SET count = count + excluded.count, last = max(last, excluded.last)
            """,
            owner,
            reason.ToString(),
            count,
            last);
    }
}
