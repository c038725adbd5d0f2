using System.Runtime.CompilerServices;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Storage;

/// <summary>The seam on SQLite. The file is on this machine and answers at once, so that nothing here waits.</summary>
internal sealed class HomeStore(FactBook book, Journal journal) : IHomeStore
{
    public bool IsAtHand => true;

    public ValueTask<IReadOnlyList<FactEntry>> FactsSinceAsync(long after, CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return new(book.Since(after));
    }

    public ValueTask<bool> TryAppendAsync(IReadOnlyList<FactEntry> entries, CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return new(book.TryAppend(entries));
    }

    public ValueTask<bool> TryAppendAsync(IReadOnlyList<JudgedFacts> judged, CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return new(book.TryAppend(judged));
    }

    public ValueTask<KnownHome> HomeAsync(CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return new(book.Known());
    }

    public ValueTask<IReadOnlyList<(CropId Crop, string Json)>> OwnCropsAsync(CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return new(book.OwnCrops());
    }

    public async IAsyncEnumerable<Reading> ReadingsAsync(ProbeId probe, Interval interval,
        [EnumeratorCancellation] CancellationToken cancel = default)
    {
        await ValueTask.CompletedTask;
        foreach (var reading in journal.ReadAll(probe, interval))
        {
            cancel.ThrowIfCancellationRequested();
            yield return reading;
        }
    }

    public async IAsyncEnumerable<ReadOnlyMemory<TemperatureSample>> TemperaturesAsync(ProbeId probe, Interval interval,
        Instant? receivedBy = null, [EnumeratorCancellation] CancellationToken cancel = default)
    {
        await ValueTask.CompletedTask;
        foreach (var part in journal.TemperaturesInParts(probe, interval, receivedBy))
        {
            cancel.ThrowIfCancellationRequested();
            yield return part;
        }
    }

    public ValueTask<IReadOnlyList<ProbeId>> ProbesAsync(CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return new(journal.Probes());
    }

    public ValueTask<IReadOnlyList<LatestReading>> LatestAsync(Instant now, CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return new(journal.Latest(now));
    }

    public ValueTask<AppendResult> AppendAsync(IReadOnlyList<Reading> readings, IReadOnlyList<Refusal> refusals,
        IReadOnlyList<Reading> lastKnown, CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return new(journal.Append(readings, refusals, lastKnown));
    }

    public ValueTask<JournalChanges> ChangesSinceAsync(JournalMark mark, CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return new(journal.ChangesSince(mark));
    }
}
