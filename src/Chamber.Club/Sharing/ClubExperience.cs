using System.Security.Cryptography;
using Chamber.Club.Store;
using Chamber.Core.Forecasts.Together;
using Chamber.Storage.Moving;

namespace Chamber.Club.Sharing;

/// <summary>
/// What the homes of a club learn from one another: those that agree give what their ended batches have shown, as the file that homes
/// elsewhere give each other (docs/experience.md), without names and days.
/// </summary>
internal sealed class ClubExperience(ClubDatabase club)
{
    /// <summary>A home lets its ended batches teach the others, from the next gathering on.</summary>
    /// <returns>Whether it had not agreed before.</returns>
    public async Task<bool> AgreeAsync(int home, CancellationToken cancel) => await club.AsAsync(home, session => session.ExecuteAsync(
        "INSERT INTO experience (home, name) VALUES ($1, $2) ON CONFLICT (home) DO NOTHING",
        home, RandomNumberGenerator.GetHexString(ExperienceFile.NameLength, lowercase: true)), cancel) > 0;

    /// <summary>Takes it back: what it gave is gone at once, and a new name is drawn if it agrees again.</summary>
    /// <returns>Whether it had agreed.</returns>
    public async Task<bool> WithdrawAsync(int home, CancellationToken cancel) => await club.AsAsync(
        home, session => session.ExecuteAsync("DELETE FROM experience WHERE home = $1", home), cancel) > 0;

    public async Task<bool> HasAgreedAsync(int home, CancellationToken cancel) => await NameAsync(home, cancel) is not null;

    /// <summary>The numbers of the homes that agree.</summary>
    public Task<List<int>> AgreedAsync(CancellationToken cancel) => club.AsKeeperAsync(
        session => session.RowsAsync("SELECT home FROM experience ORDER BY home", row => row.GetInt32(0)), cancel);

    /// <summary>Works out what a home gives.</summary>
    /// <returns>How many batches; null when it no longer agrees.</returns>
    public async Task<int?> GatherAsync(int home, TimeProvider time, CancellationToken cancel)
    {
        if (await NameAsync(home, cancel) is not { } name)
        {
            return null;
        }

        var reader = await (await ClubHomeContext.OfAsync(club, home, time, cancel)).ReadAsync(cancel: cancel);
        var given = await AtHand.AskAsync(
            () => ExperienceGiving.Of(name, reader.At(reader.Now).Forecasts.Ended(), reader.Catalog), cancel);
        var text = new ExperienceFile([given]).Write();
        var changed = await club.AsAsync(home, session => session.ExecuteAsync(
            "UPDATE experience SET body = $3::json WHERE home = $1 AND name = $2", home, name, text), cancel);
        return changed > 0 ? given.Batches.Count : null;
    }

    /// <summary>What all of them gave.</summary>
    public async Task<IReadOnlyList<HomeExperience>> GivenAsync(CancellationToken cancel)
    {
        var texts = await club.AsLearnerAsync(
            session => session.RowsAsync("SELECT body::text FROM experience ORDER BY name", row => row.GetString(0)), cancel);
        return [.. texts.SelectMany(text => ExperienceFile.Read(text).Homes)];
    }

    /// <summary>What the others gave to a home.</summary>
    public async Task<IReadOnlyList<HomeExperience>> OthersAsync(int home, CancellationToken cancel)
    {
        var name = await NameAsync(home, cancel);
        return [.. (await GivenAsync(cancel)).Where(one => one.Home != name)];
    }

    /// <summary>The random name under which a home gives; null for one that does not.</summary>
    public Task<string?> NameAsync(int home, CancellationToken cancel) => club.AsAsync(
        home, session => session.OneAsync<string>("SELECT name FROM experience WHERE home = $1", home), cancel);
}
