using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Storage.Seam;

/// <summary>What one request has loaded of a store that lies further away: each answer is asked for once and kept, so that it is at hand
/// when the request computes again. It can only be read.</summary>
/// <param name="store">Where it lies.</param>
public sealed class LoadedStore(IHomeStore store) : IHomeStore
{
    private readonly KeptAnswers kept = new();

    public ValueTask<IReadOnlyList<FactEntry>> FactsSinceAsync(long after, CancellationToken cancel = default) =>
        kept.Of((nameof(FactsSinceAsync), after), () => store.FactsSinceAsync(after, cancel));

    public ValueTask<KnownHome> HomeAsync(CancellationToken cancel = default) =>
        kept.Of(nameof(HomeAsync), () => store.HomeAsync(cancel));

    public ValueTask<IReadOnlyList<(CropId Crop, string Json)>> OwnCropsAsync(CancellationToken cancel = default) =>
        kept.Of(nameof(OwnCropsAsync), () => store.OwnCropsAsync(cancel));

    public ValueTask<bool> TryAppendAsync(IReadOnlyList<FactEntry> entries, CancellationToken cancel = default) => throw ReadOnly();

    public ValueTask<AppendResult> AppendAsync(IReadOnlyList<Reading> readings, IReadOnlyList<Refusal> refusals,
        IReadOnlyList<Reading> lastKnown, CancellationToken cancel = default) => throw ReadOnly();

    public async IAsyncEnumerable<Reading> ReadingsAsync(ProbeId probe, Interval interval,
        [EnumeratorCancellation] CancellationToken cancel = default)
    {
        foreach (var reading in await kept.Of((nameof(ReadingsAsync), probe, interval), () => All(store.ReadingsAsync(probe, interval,
            cancel))))
        {
            yield return reading;
        }
    }

    public async IAsyncEnumerable<ReadOnlyMemory<TemperatureSample>> TemperaturesAsync(ProbeId probe, Interval interval,
        Instant? receivedBy = null, [EnumeratorCancellation] CancellationToken cancel = default)
    {
        yield return await kept.Of((nameof(TemperaturesAsync), probe, interval, receivedBy),
            () => All(store.TemperaturesAsync(probe, interval, receivedBy, cancel)));
    }

    public ValueTask<IReadOnlyList<ProbeId>> ProbesAsync(CancellationToken cancel = default) =>
        kept.Of(nameof(ProbesAsync), () => store.ProbesAsync(cancel));

    public ValueTask<IReadOnlyList<LatestReading>> LatestAsync(Instant now, CancellationToken cancel = default) =>
        kept.Of((nameof(LatestAsync), now), () => store.LatestAsync(now, cancel));

    public ValueTask<JournalChanges> ChangesSinceAsync(JournalMark mark, CancellationToken cancel = default) =>
        kept.Of((nameof(ChangesSinceAsync), mark), () => store.ChangesSinceAsync(mark, cancel));

    private static async ValueTask<List<Reading>> All(IAsyncEnumerable<Reading> stream)
    {
        var all = new List<Reading>();
        await foreach (var reading in stream)
        {
            all.Add(reading);
        }

        return all;
    }

    private static async ValueTask<ReadOnlyMemory<TemperatureSample>> All(IAsyncEnumerable<ReadOnlyMemory<TemperatureSample>> stream)
    {
        var all = new List<TemperatureSample>();
        await foreach (var part in stream)
        {
            all.AddRange(part.Span);
        }

        return all.ToArray();
    }

    private static InvalidOperationException ReadOnly() => new("What was loaded can only be read: write in a draft.");
}

/// <summary>The same of what is kept beside facts and readings.</summary>
/// <param name="records">Where it lies.</param>
public sealed class LoadedRecords(IHomeRecords records) : IHomeRecords
{
    private readonly KeptAnswers kept = new();

    public long Written => 0;

    public ValueTask<IReadOnlyList<AlertEntry>> AlertsAsync(Instant? closedSince, CancellationToken cancel = default) =>
        kept.Of((nameof(AlertsAsync), closedSince), () => records.AlertsAsync(closedSince, cancel));

    public ValueTask<AlertEntry?> AlertAsync(long number, CancellationToken cancel = default) =>
        kept.Of((nameof(AlertAsync), number), () => records.AlertAsync(number, cancel));

    public ValueTask<IReadOnlyList<OutageEntry>> OutagesAsync(CancellationToken cancel = default) =>
        kept.Of(nameof(OutagesAsync), () => records.OutagesAsync(cancel));

    public ValueTask<IReadOnlyList<RefusalCount>> RefusalCountsAsync(CancellationToken cancel = default) =>
        kept.Of(nameof(RefusalCountsAsync), () => records.RefusalCountsAsync(cancel));

    public ValueTask<IReadOnlyList<Refusal>> RefusalsAsync(int limit, CancellationToken cancel = default) =>
        kept.Of((nameof(RefusalsAsync), limit), () => records.RefusalsAsync(limit, cancel));
}

/// <summary>Answers by their questions. One that failed is asked for again. Any thread may ask.</summary>
internal sealed class KeptAnswers
{
    private readonly ConcurrentDictionary<object, Task> kept = new();

    public async ValueTask<T> Of<T>(object question, Func<ValueTask<T>> ask)
    {
        var coming = kept.GetOrAdd(question, _ => ask().AsTask());
        try
        {
            return await (Task<T>)coming;
        }
        catch
        {
            kept.TryRemove(new(question, coming));
            throw;
        }
    }
}
