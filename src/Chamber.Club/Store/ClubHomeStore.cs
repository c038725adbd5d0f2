using System.Runtime.CompilerServices;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Club.Store;

/// <summary>The seam on PostgreSQL, for one home of a club.</summary>
/// <param name="database">The club's database.</param>
/// <param name="home">Its number.</param>
/// <param name="options">Its bounds.</param>
/// <param name="written">Is called when something was written here; null for nothing.</param>
internal sealed class ClubHomeStore(ClubDatabase database, int home, StoreOptions options, Action? written = null) : IHomeStore
{
    public async ValueTask<IReadOnlyList<FactEntry>> FactsSinceAsync(long after, CancellationToken cancel = default) =>
        await ClubFault.Told(async () =>
        {
            await using var session = await database.OpenAsync(home, cancel);
            return await FactRows.SinceAsync(session, home, after);
        });

    public async ValueTask<bool> TryAppendAsync(IReadOnlyList<FactEntry> entries, CancellationToken cancel = default) =>
        entries.Count == 0 || await ClubFault.Told(async () =>
        {
            await using var session = await database.OpenAsync(home, cancel);
            await session.LockAsync([home]);
            if (!await FactRows.TryAppendAsync(session, home, entries))
            {
                return false;
            }

            await session.CommitAsync();
            written?.Invoke();
            return true;
        });

    public async IAsyncEnumerable<Reading> ReadingsAsync(
        ProbeId probe, Interval interval, [EnumeratorCancellation] CancellationToken cancel = default)
    {
        await using var stream = await ClubFault.Told(() => ReadingStream.OpenAsync(database, home, probe, interval, cancel));
        while (await ClubFault.Told(stream.NextAsync) is { Count: > 0 } page)
        {
            foreach (var reading in page)
            {
                yield return reading;
            }
        }
    }

    public async ValueTask<AppendResult> AppendAsync(IReadOnlyList<Reading> readings, IReadOnlyList<Refusal> refusals,
        IReadOnlyList<Reading> lastKnown, CancellationToken cancel = default) => await ClubFault.Told(async () =>
    {
        await database.MakeMonthsAsync(readings.Select(reading => reading.MeasuredAt), cancel);
        await using var session = await database.OpenAsync(home, cancel);
        var own = readings.Select(reading => new HomeReading(home, reading)).ToList();
        var results = await new ReadingAppend(session, options).AppendAsync(own);
        await RefusalRows.AppendAsync(session, home, refusals, options.RefusalsMax);
        await LastKnownRows.KeepAsync(session, home, lastKnown, options.ProbesMax);
        await session.CommitAsync();
        written?.Invoke();
        return results is [var one] ? one.Result : new(0, 0, 0, 0, []);
    });

    public async ValueTask<IReadOnlyList<LatestReading>> LatestAsync(Instant now, CancellationToken cancel = default) =>
        await ClubFault.Told(async () =>
        {
            await using var session = await database.OpenStillAsync(home, cancel);
            return await LatestRows.ReadAsync(session, home, now);
        }) ?? await NewestReadings.OfAsync(this, now, cancel);

    public async ValueTask<JournalChanges> ChangesSinceAsync(JournalMark mark, CancellationToken cancel = default) =>
        await ClubFault.Told(async () =>
        {
            await using var session = await database.OpenAsync(home, cancel);
            return await ReadingChanges.SinceAsync(session, home, mark);
        });
}
