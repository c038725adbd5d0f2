using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Storage.Moving;
using NodaTime;

namespace Chamber.Club.Store;

/// <summary>What a club keeps of a home beside facts and readings: the alerts that its silo told, with what people did about them, and what
/// was refused.</summary>
/// <param name="database">The club's database.</param>
/// <param name="home">The home's number.</param>
/// <param name="facts">What was written down in it; null for what stands in the database.</param>
internal sealed class ClubHomeRecords(ClubDatabase database, int home, IHomeStore? facts = null) : IHomeRecords
{
    private readonly IHomeStore store = facts ?? database.Home(home);

    // Who wrote is asked of the database: VersionAsync.
    public long Written => 0;

    public async ValueTask<IReadOnlyList<AlertEntry>> AlertsAsync(Instant? closedSince, CancellationToken cancel = default) =>
        await StandingAsync(await database.AsAsync(
            home, session => AlertRows.SinceAsync(session, home, closedSince ?? Instant.MaxValue), cancel), cancel);

    // With those that followed, so that what was done about one of them is not taken for this one's.
    public async ValueTask<AlertEntry?> AlertAsync(long number, CancellationToken cancel = default)
    {
        var found = await database.AsAsync(home, session => AlertRows.OfNumberAsync(session, home, number), cancel);
        return found is [(var alert, _)]
            ? (await AlertsAsync(alert.OpenedAt, cancel)).FirstOrDefault(one => one.Number == number)
            : null;
    }

    /// <summary>Those that came with the home; when nobody in the club could hear is not kept.</summary>
    public async ValueTask<IReadOnlyList<OutageEntry>> OutagesAsync(CancellationToken cancel = default) =>
        HomeFolder.UnheardOf(HomeFolder.Unheard, (await database.AsAsync(
            home, session => PartRows.TextAsync(session, home, HomeFolder.Unheard), cancel) ?? "")
            .Split('\n', StringSplitOptions.TrimEntries));

    /// <summary>Of the refusals that are kept.</summary>
    public async ValueTask<IReadOnlyList<RefusalCount>> RefusalCountsAsync(CancellationToken cancel = default) =>
        await database.AsAsync(home, session => RefusalRows.CountsAsync(session, home), cancel);

    public async ValueTask<IReadOnlyList<Refusal>> RefusalsAsync(int limit, CancellationToken cancel = default) =>
        await database.AsAsync(home, session => RefusalRows.NewestAsync(session, home, limit), cancel);

    /// <summary>A number that is another one once anything of the home has changed.</summary>
    public async ValueTask<long> VersionAsync(CancellationToken cancel) => await database.AsAsync(home, session => session.OneAsync<long>(
        """
        SELECT hashtextextended(concat_ws(' ',
            (SELECT max(number) FROM fact WHERE home = $1), (SELECT max(newest) FROM probe WHERE home = $1),
            (SELECT max(number) FROM late WHERE home = $1), (SELECT max(number) FROM refusal WHERE home = $1),
            (SELECT concat_ws(' ', count(*), count(closed), sum(hashtext(concat(severity, evidence)))) FROM alert WHERE home = $1)), 0)
        """, home), cancel);

    private async ValueTask<IReadOnlyList<AlertEntry>> StandingAsync(
        IReadOnlyList<(AlertEntry Alert, long Known)> told, CancellationToken cancel)
    {
        if (told.Count == 0)
        {
            return [];
        }

        var log = FactLog.Of(await store.FactsSinceAsync(0, cancel));
        return MarkedAlerts.Of(
            told.Select(one => one.Alert with { Subject = AlertNames.Now(log, one.Alert.Subject, one.Known) }), log.Home.AlertMarks);
    }
}
