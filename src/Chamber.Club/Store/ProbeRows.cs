using Chamber.Core.Climate;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Club.Store;

/// <summary>A probe as readings are kept under it.</summary>
/// <param name="Home">Whose.</param>
/// <param name="Key">Its number in that home.</param>
/// <param name="Name">Its present name.</param>
/// <param name="Newest">The time of its newest reading.</param>
internal sealed record ProbeRow(int Home, int Key, ProbeId Name, Instant? Newest);

/// <summary>Probes by name. What arrives under a former name of a probe is its own.</summary>
internal static class ProbeRows
{
    /// <summary>The probes of names; new ones get a number, as long as their home has fewer than so many.</summary>
    public static async Task<Dictionary<(int Home, string Name), ProbeRow>> TakeAsync(
        HomeSession session, IEnumerable<(int Home, string Name)> names, int max)
    {
        var wanted = names.Distinct().ToList();
        var found = await FindAsync(session, wanted);
        foreach (var home in found.Where(probe => probe.Key is null).GroupBy(probe => probe.Home))
        {
            var room = max - await session.OneAsync<int>("SELECT count(*)::integer FROM probe WHERE home = $1", home.Key);
            var first = home.Select(probe => probe.FirstName).Distinct().Take(room).ToArray();
            await session.ExecuteAsync(
                """
                INSERT INTO probe (home, key, first_name)
                SELECT $1, (SELECT coalesce(max(key), 0) FROM probe WHERE home = $1) + n::integer, name
                FROM unnest($2) WITH ORDINALITY AS new (name, n)
                """,
                home.Key, first);
        }

        if (found.Exists(probe => probe.Key is null))
        {
            found = await FindAsync(session, wanted);
        }

        return found.Where(probe => probe.Key is not null).ToDictionary(
            probe => (probe.Home, probe.Name), probe => new ProbeRow(probe.Home, probe.Key!.Value, new(probe.Present), probe.Newest));
    }

    /// <summary>The number of the probe $2 of the home $1 by its present name; none when nothing is known of it, or it has another name
    /// now.</summary>
    public const string KeyByName =
        """
        SELECT key FROM probe WHERE home = $1
          AND first_name = coalesce((SELECT first_name FROM probe_name WHERE home = $1 AND present_name = $2 LIMIT 1), $2)
          AND NOT EXISTS (SELECT 1 FROM probe_name WHERE home = $1 AND name = $2 AND present_name <> $2)
        """;

    /// <summary>All probes of a home that have readings.</summary>
    public static Task<List<ProbeRow>> AllAsync(HomeSession session, int home) => session.RowsAsync(
        """
        SELECT key, coalesce(
            (SELECT present_name FROM probe_name n WHERE n.home = p.home AND n.first_name = p.first_name LIMIT 1), first_name), newest
        FROM probe p WHERE home = $1 AND newest IS NOT NULL ORDER BY key
        """,
        row => new ProbeRow(home, row.GetInt32(0), new(row.GetString(1)), row.GetFieldValue<Instant>(2)),
        home);

    /// <summary>Writes the names again as the facts have them now.</summary>
    public static async Task NameAsync(HomeSession session, int home, HomeState state)
    {
        var names = state.Probes.Select(entry => state.NamesOf(FactSubject.Of(entry.Probe.Id)).Select(name => name.Name).ToList())
            .Where(all => all.Count > 1)
            .SelectMany(all => all.Select(name => (Name: name, First: all[^1], Present: all[0])))
            .DistinctBy(one => one.Name).ToList();
        await session.ExecuteAsync("DELETE FROM probe_name WHERE home = $1", home);
        await session.ExecuteAsync(
            "INSERT INTO probe_name (home, name, first_name, present_name) SELECT $1, * FROM unnest($2, $3, $4)",
            home, names.Select(one => one.Name).ToArray(), names.Select(one => one.First).ToArray(),
            names.Select(one => one.Present).ToArray());
    }

    private static Task<List<Found>> FindAsync(HomeSession session, List<(int Home, string Name)> wanted) => session.RowsAsync(
        """
        SELECT w.home, w.name, coalesce(n.first_name, w.name), coalesce(n.present_name, w.name), p.key, p.newest
        FROM unnest($1, $2) AS w (home, name)
          LEFT JOIN probe_name n ON n.home = w.home AND n.name = w.name
          LEFT JOIN probe p ON p.home = w.home AND p.first_name = coalesce(n.first_name, w.name)
        """,
        row => new Found(
            row.GetInt32(0), row.GetString(1), row.GetString(2), row.GetString(3), row.IsDBNull(4) ? null : row.GetInt32(4),
            row.IsDBNull(5) ? null : row.GetFieldValue<Instant>(5)),
        wanted.Select(one => one.Home).ToArray(), wanted.Select(one => one.Name).ToArray());

    private sealed record Found(int Home, string Name, string FirstName, string Present, int? Key, Instant? Newest);
}
