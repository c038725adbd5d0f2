using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Service.Web.Parts;

namespace Chamber.Service.Web;

/// <summary>The temperature of a batch as a chart, thinned to what a screen can show.</summary>
internal static class BatchChart
{
    private const int PointsMax = 1500;

    public static ChartModel Of(TemperatureTrace trace, Crop? crop, TemperatureScale scale)
    {
        var points = new List<double?[]>();
        var stride = Math.Max(1, trace.Stretches.Sum(stretch => stretch.Count) * 2 / PointsMax);
        foreach (var stretch in trace.Stretches)
        {
            points.AddRange(stretch.Samples.Chunk(stride).SelectMany(Extremes).Select(sample => Point(sample, scale)));

            // A null between two stretches is drawn as the gap that it is.
            points.Add([stretch.End.ToUnixTimeMilliseconds(), null]);
        }

        return new(
            [new("Temperature", "#9a4a1f", points)],
            scale.Unit(),
            crop is null ? [] : [new(In(crop.IdealBand.Low, scale), In(crop.IdealBand.High, scale), "ideal band")],
            []);
    }

    // The coolest and the warmest of each run, in order of time: thinning must not hide an hour that was too hot.
    private static IEnumerable<TemperatureSample> Extremes(TemperatureSample[] run) => run.Length < 3
        ? run
        : new[] { run.MinBy(sample => sample.Temperature), run.MaxBy(sample => sample.Temperature) }.OrderBy(sample => sample.At);

    private static double?[] Point(TemperatureSample sample, TemperatureScale scale) =>
        [sample.At.ToUnixTimeMilliseconds(), Math.Round(In(sample.Temperature, scale), 2)];

    private static double In(Temperature temperature, TemperatureScale scale) =>
        scale == TemperatureScale.Celsius ? temperature.Celsius : temperature.Fahrenheit;
}
