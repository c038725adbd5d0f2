using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Needs;

/// <summary>What is known of a spot in a refrigerator that no probe measures.</summary>
public static class Refrigerator
{
    private static readonly Duration Hour = Duration.FromHours(1);

    /// <summary>What it is taken to be: common practice, no source.</summary>
    public static Temperature Usual { get; } = Temperature.FromCelsius(4);

    /// <summary>The temperatures of a batch with <see cref="Usual"/> for its time in refrigerators of which nothing was measured.</summary>
    /// <param name="batch">The batch.</param>
    /// <param name="measured">What was measured where it stood.</param>
    /// <param name="until">Up to when.</param>
    /// <param name="kindOf">What kind of spot it is; null for one that is not known.</param>
    /// <returns>In order of time.</returns>
    public static IReadOnlyList<TemperatureSample> Filled(
        Batch batch, TemperatureTrace measured, Instant until, Func<SpotId, SpotKind?> kindOf)
    {
        ArgumentNullException.ThrowIfNull(batch);
        ArgumentNullException.ThrowIfNull(measured);
        ArgumentNullException.ThrowIfNull(kindOf);
        var samples = measured.Stretches.SelectMany(stretch => stretch.Samples);
        var cold = batch.Stays.Where(stay => kindOf(stay.Spot) == SpotKind.Refrigerator)
            .SelectMany(stay => Unmeasured(stay.When, measured, until)).ToList();
        return cold.Count == 0 ? [.. samples] : [.. samples.Concat(cold).OrderBy(sample => sample.At)];
    }

    private static IEnumerable<TemperatureSample> Unmeasured(Interval stay, TemperatureTrace measured, Instant until)
    {
        var end = stay.HasEnd ? Instant.Min(stay.End, until) : until;
        var step = Duration.Min(Hour, measured.MaxGap);
        for (var at = stay.Start; at < end; at += step)
        {
            if (!IsMeasured(at))
            {
                yield return new(at, Usual);
            }
        }

        if (end > stay.Start && !IsMeasured(end))
        {
            yield return new(end, Usual);
        }

        bool IsMeasured(Instant at) =>
            measured.Stretches.Any(stretch => at >= stretch.Start - measured.MaxGap && at <= stretch.End + measured.MaxGap);
    }
}
