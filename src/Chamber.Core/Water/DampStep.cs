using NodaTime;

namespace Chamber.Core.Water;

/// <summary>What a calibrated media probe said over some time.</summary>
/// <param name="When">An hour at least, but for the last.</param>
/// <param name="Percent">The mean, of its saturated reading.</param>
public readonly record struct DampStep(Interval When, double Percent)
{
    private static readonly Duration Step = Duration.FromHours(1);

    /// <summary>Readings as steps.</summary>
    /// <param name="readings">In order of time, in percent of the saturated reading.</param>
    /// <param name="maxGap">Two readings further apart than this leave a gap, of which nothing is known.</param>
    public static IEnumerable<DampStep> Of(IEnumerable<(Instant At, double Percent)> readings, Duration maxGap)
    {
        ArgumentNullException.ThrowIfNull(readings);
        return Steps(readings, maxGap);
    }

    private static IEnumerable<DampStep> Steps(IEnumerable<(Instant At, double Percent)> readings, Duration maxGap)
    {
        (Instant At, double Percent)? before = null;
        var (start, hours, sum) = (default(Instant), 0.0, 0.0);
        foreach (var reading in readings)
        {
            var isNext = before is { } known && reading.At - known.At <= maxGap;
            if (isNext)
            {
                var each = (reading.At - before!.Value.At).TotalHours;
                hours += each;
                sum += each * (reading.Percent + before.Value.Percent) / 2;
            }

            if (hours > 0 && (!isNext || reading.At - start >= Step))
            {
                yield return new(new(start, isNext ? reading.At : before!.Value.At), sum / hours);
            }

            if (!isNext || reading.At - start >= Step)
            {
                (start, hours, sum) = (reading.At, 0, 0);
            }

            before = reading;
        }

        if (hours > 0)
        {
            yield return new(new(start, before!.Value.At), sum / hours);
        }
    }
}
