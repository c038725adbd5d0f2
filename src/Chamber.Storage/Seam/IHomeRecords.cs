using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Storage.Seam;

/// <summary>
/// What a store keeps of a home beside its facts and readings: what the program found out by itself, and what was refused. The watch can
/// find most of it again. Any thread may ask.
/// </summary>
public interface IHomeRecords
{
    /// <summary>How often anything but readings was written through this store; whoever has read earlier reads again.</summary>
    long Written { get; }

    /// <summary>Alerts that are open, and those that were closed at a time or later, in the order in which they were opened.</summary>
    /// <param name="closedSince">The time; null for those that are open alone.</param>
    /// <param name="cancel">Ends the wait.</param>
    ValueTask<IReadOnlyList<AlertEntry>> AlertsAsync(Instant? closedSince, CancellationToken cancel = default);

    /// <summary>One alert by its number; null when there is none.</summary>
    ValueTask<AlertEntry?> AlertAsync(long number, CancellationToken cancel = default);

    /// <summary>Times in which nothing could be heard, in order of time.</summary>
    ValueTask<IReadOnlyList<OutageEntry>> OutagesAsync(CancellationToken cancel = default);

    /// <summary>How often something was refused, by probe and reason.</summary>
    ValueTask<IReadOnlyList<RefusalCount>> RefusalCountsAsync(CancellationToken cancel = default);

    /// <summary>The refusals that are kept raw, newest first.</summary>
    /// <param name="limit">So many at most.</param>
    /// <param name="cancel">Ends the wait.</param>
    ValueTask<IReadOnlyList<Refusal>> RefusalsAsync(int limit, CancellationToken cancel = default);
}
