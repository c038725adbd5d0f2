using System.Globalization;
using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>The last day of a spot as a small picture, and the same in words for those who cannot see it.</summary>
/// <param name="Lines">Polylines in a box of <see cref="Width"/> by <see cref="Height"/>; a gap in the readings is a gap between
/// them.</param>
/// <param name="Words">What the picture shows.</param>
public sealed record DaySketch(IReadOnlyList<string> Lines, string Words)
{
    public const int Width = 240;
    public const int Height = 48;

    private const int Margin = 3;
    private const int Columns = 96;

    // A thermostat that cycles by half a degree must look steady.
    private const double SpanMin = 6;

    internal static DaySketch Of(TemperatureTrace trace, Interval day, TemperatureScale scale)
    {
        var stretches = trace.Stretches.Select(stretch => Thin(stretch.Samples, day)).Where(stretch => stretch.Count > 0).ToList();
        if (stretches.Count == 0)
        {
            return new([], "Nothing was measured in the last day.");
        }

        var (low, high) = (stretches.Min(stretch => stretch.Min(point => point.Celsius)),
            stretches.Max(stretch => stretch.Max(point => point.Celsius)));
        var middle = (low + high) / 2;
        var span = Math.Max(SpanMin, high - low);
        var band = new TemperatureBand(Temperature.FromCelsius(low), Temperature.FromCelsius(high));
        var silent = day.Duration - trace.MeasuredTime;
        return new(
            [.. stretches.Select(stretch => string.Join(' ', stretch.Select(point => Point(point, day, middle, span))))],
            $"The last day: "
                + $"{scale.Show(band)}{(silent > Duration.FromHours(2) ? $", not measured for {DurationText.Show(silent)}" : "")}.");
    }

    private static List<(Instant At, double Celsius)> Thin(IEnumerable<TemperatureSample> samples, Interval day) =>
        [.. samples
            .Where(sample => day.Contains(sample.At))
            .GroupBy(sample => (int)((sample.At - day.Start) / day.Duration * Columns))
            .Select(column => (column.First().At, column.Average(sample => sample.Temperature.Celsius)))];

    private static string Point((Instant At, double Celsius) point, Interval day, double middle, double span)
    {
        var x = (point.At - day.Start) / day.Duration * Width;
        var y = (Height / 2.0) - ((point.Celsius - middle) / span * (Height - (2 * Margin)));
        return string.Create(CultureInfo.InvariantCulture, $"{x:0.#},{y:0.#}");
    }
}
