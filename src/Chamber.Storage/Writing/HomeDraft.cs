using Chamber.Core.Climate;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Storage.Writing;

/// <summary>
/// What somebody is about to write: a home in which they write as in any, while nothing of it is in the store yet. Whoever reads it sees
/// the facts that were written in it. So an act is computed like an answer, as often as it takes, and written once (<see
/// cref="WriteAsync"/>).
/// </summary>
/// <param name="store">The home as it is.</param>
/// <param name="records">What is kept beside.</param>
public sealed class HomeDraft(IHomeStore store, IHomeRecords records) : IHomeStore, IHomeRecords
{
    private readonly List<JudgedFacts> acts = [];
    private readonly List<Reading> measured = [];

    /// <summary>What was written down in it.</summary>
    public IReadOnlyList<FactEntry> Entries => [.. acts.SelectMany(act => act.Entries)];

    public long Written => acts.Count;

    /// <summary>Does something in a draft and writes that: facts in one act, all of them or none, then readings. Where somebody else has
    /// written meanwhile, it is done again in the home as it is then.</summary>
    /// <param name="store">Where.</param>
    /// <param name="records">What is kept beside.</param>
    /// <param name="act">What is done; in the store alone it may change anything.</param>
    /// <param name="cancel">Ends the wait before anything is written.</param>
    /// <returns>What the act answered, and the entries that were written.</returns>
    /// <exception cref="FactConflictException">Others write all the time; nothing was written.</exception>
    public static async Task<(T Answer, IReadOnlyList<FactEntry> Entries)> WriteAsync<T>(
        IHomeStore store, IHomeRecords records, Func<HomeDraft, T> act, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(store);
        for (var tries = 1; tries <= FactWriting.TriesMax; tries++)
        {
            var (known, beside) = store.IsAtHand ? (store, records) : (new LoadedStore(store), new LoadedRecords(records));
            var (draft, answer) = await AtHand.AskAsync(() =>
            {
                var made = new HomeDraft(known, beside);
                return (made, act(made));
            }, cancel);
            if (await draft.TryWriteAsync(store, cancel))
            {
                return (answer, draft.Entries);
            }
        }

        throw new FactConflictException(FactWriting.TriesMax);
    }

    public async ValueTask<KnownHome> HomeAsync(CancellationToken cancel = default) =>
        acts is [.., var last] ? new(last.Entries[^1].Number, last.After) : await store.HomeAsync(cancel);

    // What others have written meanwhile is not part of it.
    public async ValueTask<IReadOnlyList<FactEntry>> FactsSinceAsync(long after, CancellationToken cancel = default)
    {
        var known = await store.FactsSinceAsync(after, cancel);
        return acts is [var first, ..]
            ? [.. known.TakeWhile(entry => entry.Number < first.Entries[0].Number), .. Entries.Where(entry => entry.Number > after)]
            : known;
    }

    public ValueTask<bool> TryAppendAsync(IReadOnlyList<JudgedFacts> judged, CancellationToken cancel = default)
    {
        acts.AddRange(judged);
        return new(true);
    }

    public ValueTask<bool> TryAppendAsync(IReadOnlyList<FactEntry> entries, CancellationToken cancel = default) =>
        throw new InvalidOperationException("A draft takes what was judged.");

    public async ValueTask<AppendResult> AppendAsync(IReadOnlyList<Reading> readings, IReadOnlyList<Refusal> refusals,
        IReadOnlyList<Reading> lastKnown, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(readings);
        var isNew = 0;
        foreach (var reading in readings)
        {
            var moment = new Interval(reading.MeasuredAt, reading.MeasuredAt + Duration.FromMilliseconds(1));
            isNew += await AnyAsync(store.ReadingsAsync(reading.Probe, moment, cancel)) ? 0 : 1;
        }

        measured.AddRange(readings);
        return new(isNew, 0, readings.Count - isNew, 0, readings);
    }

    public IAsyncEnumerable<Reading> ReadingsAsync(ProbeId probe, Interval interval, CancellationToken cancel = default) =>
        store.ReadingsAsync(probe, interval, cancel);

    public IAsyncEnumerable<ReadOnlyMemory<TemperatureSample>> TemperaturesAsync(ProbeId probe, Interval interval,
        Instant? receivedBy = null, CancellationToken cancel = default) => store.TemperaturesAsync(probe, interval, receivedBy, cancel);

    public ValueTask<IReadOnlyList<ProbeId>> ProbesAsync(CancellationToken cancel = default) => store.ProbesAsync(cancel);

    public ValueTask<IReadOnlyList<LatestReading>> LatestAsync(Instant now, CancellationToken cancel = default) =>
        store.LatestAsync(now, cancel);

    public ValueTask<JournalChanges> ChangesSinceAsync(JournalMark mark, CancellationToken cancel = default) =>
        store.ChangesSinceAsync(mark, cancel);

    public ValueTask<IReadOnlyList<AlertEntry>> AlertsAsync(Instant? closedSince, CancellationToken cancel = default) =>
        records.AlertsAsync(closedSince, cancel);

    public ValueTask<AlertEntry?> AlertAsync(long number, CancellationToken cancel = default) => records.AlertAsync(number, cancel);

    public ValueTask<IReadOnlyList<OutageEntry>> OutagesAsync(CancellationToken cancel = default) => records.OutagesAsync(cancel);

    public ValueTask<IReadOnlyList<RefusalCount>> RefusalCountsAsync(CancellationToken cancel = default) =>
        records.RefusalCountsAsync(cancel);

    public ValueTask<IReadOnlyList<Refusal>> RefusalsAsync(int limit, CancellationToken cancel = default) =>
        records.RefusalsAsync(limit, cancel);

    private static async ValueTask<bool> AnyAsync(IAsyncEnumerable<Reading> stream)
    {
        await foreach (var _ in stream)
        {
            return true;
        }

        return false;
    }

    private async ValueTask<bool> TryWriteAsync(IHomeStore target, CancellationToken cancel)
    {
        if (acts.Count > 0 && !await target.TryAppendAsync(acts, cancel))
        {
            return false;
        }

        if (measured.Count > 0)
        {
            await target.AppendAsync(measured, [], [], CancellationToken.None);
        }

        return true;
    }
}
