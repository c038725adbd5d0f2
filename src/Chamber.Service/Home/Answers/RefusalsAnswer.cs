using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Service.Home.Answers;

/// <summary>Refusals for programs.</summary>
internal sealed record RefusalsAnswer(IReadOnlyList<RefusalCountAnswer> Counts, IReadOnlyList<Refusal> Newest)
{
    /// <summary>How often for each reason, and the newest as they came.</summary>
    /// <param name="records">Where they are recorded.</param>
    /// <param name="probe">Only those of this probe; null for all.</param>
    /// <param name="newest">How many of the newest, within <see cref="Core.Bounds.RefusalsShown"/>.</param>
    public static RefusalsAnswer Of(IHomeRecords records, ProbeId? probe, int newest) => new(
        [.. AtHand.Of(records.RefusalCountsAsync()).Where(row => probe is null || row.Probe == probe).OrderByDescending(row => row.Count)
            .Select(row => new RefusalCountAnswer(row.Probe, row.Reason, row.Count, row.LastAt))],
        [.. AtHand.Of(records.RefusalsAsync((int)Core.Bounds.RefusalsShown.High))
            .Where(refusal => probe is null || refusal.Probe == probe).Take(newest)]);
}

/// <summary>How often something was refused.</summary>
internal sealed record RefusalCountAnswer(ProbeId? Probe, RefusalReason Reason, long Count, Instant LastAt);
