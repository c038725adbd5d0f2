using System.Collections.Concurrent;
using System.Text.Json;
using Chamber.Club.Store;
using Chamber.Club.Telemetry;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Forecasts.Together;

namespace Chamber.Club.Sharing;

/// <summary>
/// What the other homes of a club have taught each of its homes. Worked out when something else is given than before, and kept in the
/// database, so that no page and no silo waits for it. The same object as long as it is the same. Any thread may ask.
/// </summary>
internal sealed class ClubLearned(ClubDatabase club, TimeProvider time) : IDisposable
{
    /// <summary>What was given is asked for again after so long.</summary>
    public static readonly TimeSpan Follows = TimeSpan.FromMinutes(10);

    private const string OfAll = "";
    private static readonly JsonSerializerOptions Form = new(JsonSerializerDefaults.Web);

    private readonly SemaphoreSlim one = new(1);
    private readonly ConcurrentDictionary<string, SharedKnowledge?> known = new(StringComparer.Ordinal);
    private string basis = "";
    private long? asked;

    /// <summary>What a home is taught by the others; null for nothing.</summary>
    public async Task<SharedKnowledge?> OfAsync(int home, CancellationToken cancel)
    {
        var name = await new ClubExperience(club).NameAsync(home, cancel) ?? OfAll;
        await one.WaitAsync(cancel);
        try
        {
            if (asked is not { } last || time.GetElapsedTime(last) >= Follows)
            {
                await FollowAsync(cancel);
                asked = time.GetTimestamp();
            }

            return known.TryGetValue(name, out var kept) ? kept : known[name] = await ReadAsync(name, cancel);
        }
        finally
        {
            one.Release();
        }
    }

    /// <summary>Works it out again if something else is given than it was worked out from.</summary>
    /// <returns>Whether it was worked out.</returns>
    public async Task<bool> RebuildAsync(CancellationToken cancel)
    {
        var given = await BasisAsync(cancel);
        var kept = await club.AsLearnerAsync(
            session => session.OneAsync<string>("SELECT basis FROM learned WHERE name = $1", OfAll), cancel);
        if (kept == given || given.Length == 0)
        {
            return false;
        }

        var homes = await new ClubExperience(club).GivenAsync(cancel);
        var rows = await Task.Run(() => Rows(homes), cancel);
        await club.AsLearnerAsync(async session =>
        {
            await session.ExecuteAsync("DELETE FROM learned");
            return await session.ExecuteAsync(
                "INSERT INTO learned (name, basis, body) SELECT name, $1, body FROM unnest($2, $3) AS new (name, body) ON CONFLICT DO NOTHING",
                given, rows.Select(row => row.Name).ToArray(), new JsonBodies([.. rows.Select(row => row.Body)]));
        }, cancel);
        return true;
    }

    public void Dispose() => one.Dispose();

    private async Task FollowAsync(CancellationToken cancel)
    {
        await RebuildAsync(cancel);
        var now = await BasisAsync(cancel);
        if (now != basis)
        {
            known.Clear();
            basis = now;
        }
    }

    // Of a home that gave nothing that can be used nothing is kept apart: all that is given is given by others.
    private async Task<SharedKnowledge?> ReadAsync(string name, CancellationToken cancel)
    {
        if (basis.Length == 0)
        {
            return null;
        }

        var body = await club.AsLearnerAsync(session => session.OneAsync<string>(
            "SELECT body::text FROM learned WHERE name IN ($1, '') AND basis = $2 ORDER BY name DESC LIMIT 1", name, basis), cancel);
        var numbers = body is null ? null : JsonSerializer.Deserialize<SharedNumbers>(body, Form);
        ClubSignals.Learned.Set(numbers?.Homes ?? 0);
        return numbers is null || numbers.Homes == 0 ? null : SharedKnowledge.Of(numbers);
    }

    private static List<(string Name, string Body)> Rows(IReadOnlyList<HomeExperience> homes)
    {
        var fit = SharedFit.OfAll(homes, CropCatalog.Shipped);
        return [.. homes.Where(home => home.Batches.Count > 0).Select(home => (home.Home, Body(fit?.Without(home.Home))))
            .Prepend((OfAll, Body(fit?.All())))];
    }

    private static string Body(SharedKnowledge? learned) => JsonSerializer.Serialize(
        learned?.ToNumbers() ?? new([], [], new Dictionary<FactorKind, double>(), 0, 0, 1), Form);

    // A sum of all that is given; empty where nothing is.
    private async Task<string> BasisAsync(CancellationToken cancel) => await club.AsLearnerAsync(session => session.OneAsync<string>(
        "SELECT md5(string_agg(name || md5(body::text), ' ' ORDER BY name)) FROM experience"), cancel) ?? "";
}
