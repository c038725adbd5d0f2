using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Plots;

/// <summary>All that the pictures of a batch show.</summary>
internal sealed record BatchPicture
{
    public required Batch Batch { get; init; }

    public required Crop Crop { get; init; }

    public required DateTimeZone Zone { get; init; }

    public required TemperatureScale Scale { get; init; }

    /// <summary>The right edge: the end, or now.</summary>
    public required Instant Until { get; init; }

    /// <summary>Stretches of temperatures; between two there is a gap.</summary>
    public required IReadOnlyList<IReadOnlyList<TemperatureSample>> Stretches { get; init; }

    /// <summary>Warm-hours over time; empty when nothing is known.</summary>
    public required IReadOnlyList<(Instant At, double CelsiusHours)> Warmth { get; init; }

    /// <summary>When the first was forecast to be up at sowing, 80 %; null without a forecast.</summary>
    public (Instant Low, Instant High)? ForecastFirst { get; init; }

    /// <summary>Warm-hours at which half are up, by the curve fitted to this batch.</summary>
    public double? HalfWarmHours { get; init; }

    /// <summary>How many the fitted curve has up, over time; empty without one.</summary>
    public IReadOnlyList<(Instant At, double Up)> Fitted { get; init; } = [];

    public string Title => $"{Batch.Id}  {Crop.CommonName}";

    /// <summary>Where it stood, with the times of moving.</summary>
    public IEnumerable<(Instant At, SpotId Spot)> Moves => Batch.Stays.Select(stay => (stay.When.Start, stay.Spot));

    /// <summary>The fitted curve: at most a few hundred points, which is all that a picture can show.</summary>
    public static IReadOnlyList<(Instant At, double Up)> Curve(EmergenceCurve curve, WarmthCourse course, int seeds,
        Instant from, Instant to) =>
        [.. Times(from, to).Select(at => (at, seeds * curve.UpBy(course.At(at))))];

    public static IReadOnlyList<(Instant At, double CelsiusHours)> WarmthOf(WarmthCourse course, Instant from, Instant to) =>
        [.. Times(from, to).Select(at => (at, course.At(at).CelsiusHours))];

    private static IEnumerable<Instant> Times(Instant from, Instant to)
    {
        const int points = 300;
        var step = (to - from) / points;
        return Enumerable.Range(0, points + 1).Select(i => from + step * i);
    }
}
