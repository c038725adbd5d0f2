using Chamber.Core.Climate;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Needs;

/// <summary>How far the seed of a batch, or of a sowing to come, is with its moist chill.</summary>
/// <param name="Need">What its crop needs.</param>
/// <param name="Days">Days of it so far, 0 or more.</param>
/// <param name="IsNow">Whether it is in the cold now.</param>
public sealed record ChillState(CropNeed Need, double Days, bool IsNow)
{
    /// <summary>Less than this share of a day short of enough is enough.</summary>
    private const double Rounding = 0.02;

    /// <summary>Days until it has had enough; 0 from then on.</summary>
    public double DaysLeft => Need.EnoughDays - Days > Rounding ? Need.EnoughDays - Days : 0;

    /// <summary>Whether it has had enough.</summary>
    public bool IsEnough => DaysLeft <= 0;

    /// <summary>Whether it waits in the cold for the rest.</summary>
    public bool IsUnderWay => IsNow && !IsEnough;

    /// <summary>The share of sound seed that can come up: with the whole chill while it is in the cold, otherwise with what it has had.
    /// 0 to 1.</summary>
    public double Share => Need.ShareAfter(IsNow ? Math.Max(Days, Need.EnoughDays) : Days);

    /// <summary>Seed of a crop that is not sown yet: chilled first and whole where most wait for that; null for a crop that wants no
    /// chill.</summary>
    public static ChillState? First(Crop crop) => crop?.Chill is { } need ? new(need, 0, need.IsNeeded) : null;

    /// <summary>The days that a need of chill counts, over temperatures in order of time.</summary>
    /// <param name="need">The need.</param>
    /// <param name="samples">Straight lines lie between them, but for gaps, which count for nothing.</param>
    /// <param name="when">Only what lies in this counts.</param>
    /// <param name="maxGap">Two temperatures further apart than this leave a gap.</param>
    public static double DaysOf(CropNeed need, IReadOnlyList<TemperatureSample> samples, Interval when, Duration maxGap)
    {
        ArgumentNullException.ThrowIfNull(need);
        ArgumentNullException.ThrowIfNull(samples);
        var hours = 0.0;
        for (var i = 1; i < samples.Count && need.Band is not null; i++)
        {
            var (from, to) = (samples[i - 1], samples[i]);
            if (to.At - from.At <= maxGap && from.At >= when.Start && to.At <= when.End)
            {
                hours += (to.At - from.At).TotalHours * Within(need.Band.Value, from.Temperature.Celsius, to.Temperature.Celsius);
            }
        }

        return hours / 24;
    }

    /// <summary>The share of a straight line that lies in a band.</summary>
    private static double Within(TemperatureBand band, double from, double to)
    {
        var (low, high) = (Math.Min(from, to), Math.Max(from, to));
        return high == low
            ? band.Contains(Temperature.FromCelsius(low)) ? 1 : 0
            : Math.Max(0, Math.Min(high, band.High.Celsius) - Math.Max(low, band.Low.Celsius)) / (high - low);
    }
}
