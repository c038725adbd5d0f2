using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Service.Tests.Storage.Seam;

/// <summary>What is kept beside facts and readings, in memory: alerts as they are given.</summary>
internal sealed class MemoryHomeRecords(IReadOnlyList<AlertEntry> alerts) : IHomeRecords
{
    public long Written => 0;

    public async ValueTask<IReadOnlyList<AlertEntry>> AlertsAsync(Instant? closedSince, CancellationToken cancel = default)
    {
        await Task.Yield();
        return [.. alerts.Where(alert => alert.ClosedAt is not { } closed || closed >= closedSince).OrderBy(alert => alert.OpenedAt)];
    }

    public ValueTask<AlertEntry?> AlertAsync(long number, CancellationToken cancel = default) =>
        new(alerts.FirstOrDefault(alert => alert.Number == number));

    public ValueTask<IReadOnlyList<OutageEntry>> OutagesAsync(CancellationToken cancel = default) => new([]);

    public ValueTask<IReadOnlyList<RefusalCount>> RefusalCountsAsync(CancellationToken cancel = default) => new([]);

    public ValueTask<IReadOnlyList<Refusal>> RefusalsAsync(int limit, CancellationToken cancel = default) => new([]);
}
