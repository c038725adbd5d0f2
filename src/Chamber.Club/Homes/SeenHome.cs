using Chamber.Core.Climate;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Club.Homes;

/// <summary>The store of a home of which all that was written down is in memory already. It can only be read.</summary>
/// <param name="store">Where the readings are.</param>
/// <param name="log">What was written down.</param>
internal sealed class SeenHome(IHomeStore store, Func<FactLog> log) : IHomeStore
{
    public ValueTask<IReadOnlyList<FactEntry>> FactsSinceAsync(long after, CancellationToken cancel = default) =>
        new([.. log().Entries.Where(entry => entry.Number > after)]);

    public ValueTask<KnownHome> HomeAsync(CancellationToken cancel = default) => new(new KnownHome(log().Last, log().Home));

    public IAsyncEnumerable<Reading> ReadingsAsync(ProbeId probe, Interval interval, CancellationToken cancel = default) =>
        store.ReadingsAsync(probe, interval, cancel);

    public IAsyncEnumerable<ReadOnlyMemory<TemperatureSample>> TemperaturesAsync(ProbeId probe, Interval interval,
        Instant? receivedBy = null, CancellationToken cancel = default) => store.TemperaturesAsync(probe, interval, receivedBy, cancel);

    public ValueTask<JournalChanges> ChangesSinceAsync(JournalMark mark, CancellationToken cancel = default) =>
        store.ChangesSinceAsync(mark, cancel);

    public ValueTask<IReadOnlyList<LatestReading>> LatestAsync(Instant now, CancellationToken cancel = default) =>
        store.LatestAsync(now, cancel);

    public ValueTask<bool> TryAppendAsync(IReadOnlyList<FactEntry> entries, CancellationToken cancel = default) => throw ReadOnly();

    public ValueTask<AppendResult> AppendAsync(IReadOnlyList<Reading> readings, IReadOnlyList<Refusal> refusals,
        IReadOnlyList<Reading> lastKnown, CancellationToken cancel = default) => throw ReadOnly();

    private static InvalidOperationException ReadOnly() => new("A home that is watched is written to by its store.");
}
