using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Batches;

/// <summary>
/// Hours that seedlings stood warm and not in the light after they were seen: the costliest ordinary mistake, which makes them
/// long and pale within a day or two. Common practice, no source.
/// </summary>
public static class WarmDark
{
    /// <summary>Used where the catalog has no growing temperature: most seedlings grow on at 65 to 70 °F (Iowa State Univ. Extension,
    /// 2023).</summary>
    private const double WarmCelsiusUsual = 18.3;

    /// <summary>A day of it shows in the plants. Common practice, no source.</summary>
    public static readonly Duration Harmful = Duration.FromHours(24);

    /// <summary>When it can count: from the first look with something up until the light, or until <paramref name="now"/>; null while
    /// nothing is up.</summary>
    public static Interval? Window(Batch batch, Func<SpotId, LightLevel> lightOf, Instant now)
    {
        ArgumentNullException.ThrowIfNull(batch);
        if (FirstSeen.Of(batch).By is not { } seen)
        {
            return null;
        }

        var moved = batch.Stages.Where(stage => stage.Kind == StageKind.MovedToLight).Select(stage => stage.At);
        var bright = batch.Stays
            .Where(stay => lightOf(stay.Spot) == LightLevel.Bright && (!stay.When.HasEnd || stay.When.End > seen))
            .Select(stay => Instant.Max(stay.When.Start, seen));
        var end = moved.Concat(bright).Append(batch.EndedAt ?? now).Append(now).Min();
        return new(seen, Instant.Max(seen, end));
    }

    /// <summary>Whether a batch that is up has come into the light: by a move that says so, or onto a bright spot.</summary>
    public static bool IsInLight(Batch batch, Func<SpotId, LightLevel> lightOf)
    {
        ArgumentNullException.ThrowIfNull(batch);
        return batch.Stages.Any(stage => stage.Kind == StageKind.MovedToLight)
            || (batch.Stays.Count > 0 && lightOf(batch.Stays[^1].Spot) == LightLevel.Bright);
    }

    /// <summary>Measured hours above the growing temperature within the window.</summary>
    /// <param name="crop">Whose seedlings.</param>
    /// <param name="samples">Temperatures in order of time; those outside the window are passed over.</param>
    /// <param name="window">From <see cref="Window"/>.</param>
    /// <param name="maxGap">Two temperatures further apart leave a gap, which is not counted.</param>
    public static Duration Hours(Crop crop, IEnumerable<TemperatureSample> samples, Interval window, Duration maxGap)
    {
        ArgumentNullException.ThrowIfNull(crop);
        var tally = new WarmthTally(crop.Limits with { HotLimit = WarmAbove(crop) }, maxGap);
        foreach (var sample in samples.Where(sample => window.Contains(sample.At) || sample.At == window.End))
        {
            tally.Add(sample.At, sample.Temperature);
        }

        return Duration.FromHours(tally.HoursAbove);
    }

    /// <summary>Warm, for a seedling: above the low end of its growing day.</summary>
    public static Temperature WarmAbove(Crop crop)
    {
        ArgumentNullException.ThrowIfNull(crop);
        return crop.Guide?.GrowingDay?.Low ?? Temperature.FromCelsius(WarmCelsiusUsual);
    }
}
