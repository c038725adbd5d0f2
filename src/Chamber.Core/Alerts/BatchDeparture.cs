using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Crops;

namespace Chamber.Core.Alerts;

/// <summary>
/// What a batch takes along when it leaves a place: what it has been through there, and the alerts about it that are open. A move from one dark
/// shelf to another is no mend, so that the next place goes on where this one ended.
/// </summary>
/// <param name="Batch">Which batch.</param>
/// <param name="At">When it left, Unix ticks.</param>
/// <param name="WarmDarkHours">Hours in the warm and dark since the first were up.</param>
/// <param name="CoverTold">How often the shut cover was told.</param>
/// <param name="IsUncovered">Whether its cover is off, be it that dry air showed it.</param>
/// <param name="Stand">What its temperatures have left of its seed so far.</param>
/// <param name="Alerts">The open alerts about it.</param>
internal sealed record BatchDeparture(BatchId Batch, long At, double WarmDarkHours, int CoverTold, bool IsUncovered, StandTally Stand, IReadOnlyList<OpenAlert> Alerts)
{
    /// <summary>All that makes it different from another one, as text.</summary>
    public string Key { get; } = string.Create(
        CultureInfo.InvariantCulture,
        $"{Batch} {At} {WarmDarkHours:R} {CoverTold} {IsUncovered} {Stand.Hours:R} {Stand.StandHours:R} {string.Join(';', Alerts.Select(alert => alert.Key))}");
}

/// <summary>How a batch stood when it came to a place, by the facts alone.</summary>
/// <param name="Up">How many were up.</param>
/// <param name="FirstUpAt">When somebody first saw one up, Unix ticks; null while nobody had.</param>
/// <param name="IsUncovered">Whether its cover was off.</param>
internal readonly record struct BatchStanding(int Up, long? FirstUpAt, bool IsUncovered);
