using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Probes;
using NodaTime;

namespace Chamber.Club.Store;

/// <summary>The newest of each quantity of a home's probes, by one question: whoever opens a page waits for it.</summary>
internal static class LatestRows
{
    // As the seam has it: clocks differ, and what lies further ahead waits.
    private static readonly Duration AheadMax = Duration.FromMinutes(15);
    private static readonly Duration Recent = Duration.FromDays(1);
    private static readonly string SetAside = FactKinds.NameOf(typeof(ReadingsSetAside));

    private static readonly string[] Quantities = ["temperature", "humidity", "moisture", "battery"];

    // For each quantity the newest that was said within a day of the probe's newest reading.
    private static readonly string Question = $"""
        SELECT p.key, n.at, n.received, {Each("{0}.at, {0}.{0}", ", ")} FROM probe p
          CROSS JOIN LATERAL (SELECT r.at, r.received FROM reading r WHERE r.home = $1 AND r.probe = p.key AND r.at >= $2 AND r.at < $3
            ORDER BY r.at DESC LIMIT 1) n
          {Each("""
            LEFT JOIN LATERAL (SELECT r.at, r.{0} FROM reading r WHERE r.home = $1 AND r.probe = p.key AND r.at <= n.at
              AND r.at >= n.at - interval '1 day' AND r.{0} IS NOT NULL ORDER BY r.at DESC LIMIT 1) {0} ON true
            """, " ")}
        WHERE p.home = $1
        """;

    /// <summary>Null where it takes more to know: readings were set aside, or a probe has been silent for a day.</summary>
    public static async Task<IReadOnlyList<LatestReading>?> ReadAsync(HomeSession session, int home, Instant now)
    {
        if (await session.OneAsync<bool>("SELECT EXISTS (SELECT FROM fact WHERE home = $1 AND kind = $2)", home, SetAside))
        {
            return null;
        }

        var names = (await ProbeRows.AllAsync(session, home)).ToDictionary(probe => probe.Key, probe => probe.Name);
        var end = now + AheadMax;
        var found = await session.RowsAsync(
            Question,
            row => new LatestReading(names[row.GetInt32(0)], row.GetFieldValue<Instant>(1), row.GetFieldValue<Instant>(2),
                Value(row, 3, Temperature.FromCelsius), Value(row, 5, RelativeHumidity.FromPercent), Value(row, 7, value => value),
                Value(row, 9, value => value)),
            home, end - Recent, end);
        return found.Count < names.Count ? null : [.. found.OrderBy(latest => latest.Probe.Text, StringComparer.Ordinal)];
    }

    private static string Each(string part, string between) => string.Join(between,
        Quantities.Select(quantity => part.Replace("{0}", quantity, StringComparison.Ordinal)));

    private static Dated<T>? Value<T>(Npgsql.NpgsqlDataReader row, int column, Func<double, T> of)
        where T : struct =>
        row.IsDBNull(column) ? null : new Dated<T>(row.GetFieldValue<Instant>(column), of(row.GetDouble(column + 1)));
}
