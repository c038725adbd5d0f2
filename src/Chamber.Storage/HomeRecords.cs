using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Storage;

/// <summary>What the data file keeps beside facts and readings. It is on this machine and answers at once, so that nothing here
/// waits.</summary>
internal sealed class HomeRecords(AlertLedger alerts, Journal journal, Func<long> written) : IHomeRecords
{
    public long Written => written();

    public ValueTask<IReadOnlyList<AlertEntry>> AlertsAsync(Instant? closedSince, CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return new(closedSince is { } since ? alerts.OpenOrClosedSince(since) : alerts.Open());
    }

    public ValueTask<AlertEntry?> AlertAsync(long number, CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return new(alerts.Find(number));
    }

    public ValueTask<IReadOnlyList<OutageEntry>> OutagesAsync(CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return new(alerts.Outages());
    }

    public ValueTask<IReadOnlyList<RefusalCount>> RefusalCountsAsync(CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return new(journal.RefusalCounts());
    }

    public ValueTask<IReadOnlyList<Refusal>> RefusalsAsync(int limit, CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return new(journal.Refusals(limit));
    }
}
