using System.Globalization;
using NodaTime;

namespace Chamber.Core.Climate.Moisture;

/// <summary>What air says of moisture where no probe lies in the media, and what it does not say.</summary>
/// <param name="Humidity">Of the last reading.</param>
/// <param name="Gap">How far the air of the last reading lay above its dew point; null for air without any vapour.</param>
/// <param name="NearDewPoint">Of the time measured: within <see cref="NearKelvins"/> of the dew point, where drops form on whatever is a
/// little cooler.</param>
/// <param name="Measured">The time measured.</param>
public sealed record AirMoisture(RelativeHumidity Humidity, TemperatureDifference? Gap, Duration NearDewPoint, Duration Measured)
{
    /// <summary>K. A sensor's ±3 % near saturation are about ±0.5 K of dew point (by the Magnus form), so that nothing finer can be
    /// told.</summary>
    public const double NearKelvins = 0.5;

    // K, about 83 % in a warm room: above it open media loses water within a day or two (common practice, no source).
    private const double DryKelvins = 3;

    /// <summary>Sums up readings of one probe; null when none has both temperature and humidity.</summary>
    /// <param name="readings">In order of time, as corrected.</param>
    /// <param name="maxGap">Time between two readings that is longer than this counts as not measured.</param>
    public static AirMoisture? Of(IEnumerable<(Instant At, Temperature Air, RelativeHumidity Humidity)> readings, Duration maxGap)
    {
        var (near, measured) = (Duration.Zero, Duration.Zero);
        (Instant At, RelativeHumidity Humidity, TemperatureDifference? Gap)? last = null;
        foreach (var (at, air, humidity) in readings)
        {
            if (last is { } before && at - before.At <= maxGap)
            {
                measured += at - before.At;
                near += before.Gap is { Kelvins: <= NearKelvins } ? at - before.At : Duration.Zero;
            }

            last = (at, humidity, Psychrometrics.DewPointGap(air, humidity));
        }

        return last is { } latest ? new(latest.Humidity, latest.Gap, near, measured) : null;
    }

    /// <summary>In words, with what it proves and what it doesn't.</summary>
    public string Words(TemperatureScale scale)
    {
        var gap = Gap is { } kelvins ? $"The air lies {scale.Show(kelvins)} above its dew point"
            : "The air holds no vapour that the sensor can tell";
        var meaning = Gap switch
        {
            { Kelvins: <= NearKelvins } => "as good as saturated, as it is under a shut cover. That is not too wet by itself: it says "
                + "nothing of how wet the media is",
            { Kelvins: <= DryKelvins } => "humid. Media under a cover keeps its water; how wet it is the air does not say",
            _ => "dry enough for open mix and towels to lose water. How wet they are the air does not say",
        };
        return string.Create(CultureInfo.InvariantCulture, $"{gap} ({Humidity.Percent:0} %): {meaning}.{DropsWords()}");
    }

    private string DropsWords() => NearDewPoint.TotalHours < 1 || Measured == Duration.Zero
        ? ""
        : string.Create(CultureInfo.InvariantCulture, $" For {NearDewPoint.TotalHours:0} of the {Measured.TotalHours:0} h measured in the "
            + $"last day drops could form on whatever is a little cooler.");
}
