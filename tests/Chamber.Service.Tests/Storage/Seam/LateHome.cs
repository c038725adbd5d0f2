using System.Runtime.CompilerServices;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Service.Tests.Storage.Seam;

/// <summary>A home behind a store that answers late: each answer waits until it is let go, on the one thread of the test. Whoever let that
/// thread wait for an answer would wait for ever.</summary>
internal sealed class LateHome(IHomeStore store, IHomeRecords records) : IHomeStore, IHomeRecords
{
    private readonly Queue<TaskCompletionSource> waiting = new();

    /// <summary>How many answers were let go.</summary>
    public int Answers { get; private set; }

    public long Written => records.Written;

    /// <summary>What is asked, once everything that it waits for was let go.</summary>
    public async Task<T> LetGo<T>(Task<T> asked)
    {
        while (!asked.IsCompleted)
        {
            Assert.True(waiting.TryDequeue(out var next), "It waits for something else than the store.");
            Answers++;

            // What follows from the answer is done before this returns.
            next.SetResult();
        }

        return await asked;
    }

    public ValueTask<IReadOnlyList<FactEntry>> FactsSinceAsync(long after, CancellationToken cancel = default) =>
        Late(() => store.FactsSinceAsync(after, cancel));

    public ValueTask<KnownHome> HomeAsync(CancellationToken cancel = default) => Late(() => store.HomeAsync(cancel));

    public ValueTask<bool> TryAppendAsync(IReadOnlyList<FactEntry> entries, CancellationToken cancel = default) =>
        Late(() => store.TryAppendAsync(entries, cancel));

    public ValueTask<AppendResult> AppendAsync(IReadOnlyList<Reading> readings, IReadOnlyList<Refusal> refusals,
        IReadOnlyList<Reading> lastKnown, CancellationToken cancel = default) =>
        Late(() => store.AppendAsync(readings, refusals, lastKnown, cancel));

    public async IAsyncEnumerable<Reading> ReadingsAsync(ProbeId probe, Interval interval,
        [EnumeratorCancellation] CancellationToken cancel = default)
    {
        await Turn();
        await foreach (var reading in store.ReadingsAsync(probe, interval, cancel))
        {
            yield return reading;
        }
    }

    public async IAsyncEnumerable<ReadOnlyMemory<TemperatureSample>> TemperaturesAsync(ProbeId probe, Interval interval,
        Instant? receivedBy = null, [EnumeratorCancellation] CancellationToken cancel = default)
    {
        await foreach (var part in store.TemperaturesAsync(probe, interval, receivedBy, cancel))
        {
            await Turn();
            yield return part;
        }
    }

    public ValueTask<IReadOnlyList<ProbeId>> ProbesAsync(CancellationToken cancel = default) => Late(() => store.ProbesAsync(cancel));

    public ValueTask<IReadOnlyList<LatestReading>> LatestAsync(Instant now, CancellationToken cancel = default) =>
        Late(() => store.LatestAsync(now, cancel));

    public ValueTask<JournalChanges> ChangesSinceAsync(JournalMark mark, CancellationToken cancel = default) =>
        Late(() => store.ChangesSinceAsync(mark, cancel));

    public ValueTask<IReadOnlyList<AlertEntry>> AlertsAsync(Instant? closedSince, CancellationToken cancel = default) =>
        Late(() => records.AlertsAsync(closedSince, cancel));

    public ValueTask<AlertEntry?> AlertAsync(long number, CancellationToken cancel = default) =>
        Late(() => records.AlertAsync(number, cancel));

    public ValueTask<IReadOnlyList<OutageEntry>> OutagesAsync(CancellationToken cancel = default) =>
        Late(() => records.OutagesAsync(cancel));

    public ValueTask<IReadOnlyList<RefusalCount>> RefusalCountsAsync(CancellationToken cancel = default) =>
        Late(() => records.RefusalCountsAsync(cancel));

    public ValueTask<IReadOnlyList<Refusal>> RefusalsAsync(int limit, CancellationToken cancel = default) =>
        Late(() => records.RefusalsAsync(limit, cancel));

    private async ValueTask<T> Late<T>(Func<ValueTask<T>> ask)
    {
        await Turn();
        return await ask();
    }

    private Task Turn()
    {
        var turn = new TaskCompletionSource();
        waiting.Enqueue(turn);
        return turn.Task;
    }
}
