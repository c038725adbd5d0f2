using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>
/// The temperature of a spot thinned to what a screen can show: time is cut into equal parts, and of each part the coolest and the
/// warmest reading stay, in order of time. An hour that was too hot is never thinned away, and a year costs no more to send than a day.
/// It is thinned as it is read, since holding half a million readings first costs more than reading them.
/// </summary>
/// <param name="Stretches">The readings that stay, stretch by stretch in order of time; between two stretches is a gap.</param>
/// <param name="Readings">How many readings lie behind them.</param>
public sealed record ThinnedTrace(IReadOnlyList<IReadOnlyList<TemperatureSample>> Stretches, int Readings)
{
    /// <summary>The thinned temperature of one probe.</summary>
    /// <param name="samples">In order of time.</param>
    /// <param name="maxGap">Two readings further apart than this leave a gap; positive.</param>
    /// <param name="when">What is cut into parts; with a start and an end.</param>
    /// <param name="parts">Into how many, at least 1.</param>
    public static ThinnedTrace Of(IEnumerable<TemperatureSample> samples, Duration maxGap, Interval when, int parts)
    {
        ArgumentNullException.ThrowIfNull(samples);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(maxGap, Duration.Zero);
        return Of(ThinnedStretch.Of(samples, new Interval(null, null), maxGap, new TimeParts(when, parts), []));
    }

    internal static ThinnedTrace Of(IReadOnlyList<ThinnedStretch> stretches) =>
        new([.. stretches.Select(stretch => stretch.Samples)], stretches.Sum(stretch => stretch.Count));
}

/// <summary>A stretch of time cut into equal parts. Parts go on on both sides of it.</summary>
internal readonly struct TimeParts
{
    private readonly long origin;
    private readonly long width;

    public TimeParts(Interval when, int parts)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(parts, 1);
        origin = when.Start.ToUnixTimeTicks();
        width = ((when.End.ToUnixTimeTicks() - origin) / parts) + 1;
    }

    /// <summary>Where the part ends that an instant lies in. Before the origin parts count backwards, so that division must round
    /// down.</summary>
    public long EndOf(long at) => origin + ((Math.DivRem(at - origin, width) is var (whole, rest) && rest < 0 ? whole : whole + 1) * width);
}
