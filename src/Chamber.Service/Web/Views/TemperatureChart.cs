using Chamber.Core.Climate;
using Chamber.Core.Crops;

namespace Chamber.Service.Web.Views;

/// <summary>A temperature and an ideal band as charts show them, in the scale that was chosen.</summary>
internal static class TemperatureChart
{
    public const string Clay = "clay";

    public static ChartLine Line(SeriesAnswer series, TemperatureScale scale) => new(
        "Temperature", Clay,
            [.. series.Points.Select(
            point => new[] { point[0], point[1] is { } celsius ? Math.Round(In(scale, Temperature.FromCelsius(celsius)), 2) : null })]);

    /// <summary>The ideal band; empty without a crop.</summary>
    public static IReadOnlyList<ChartBand> Band(Crop? crop, TemperatureScale scale) =>
        crop is null ? [] : [new(In(scale, crop.IdealBand.Low), In(scale, crop.IdealBand.High), "ideal band")];

    private static double In(TemperatureScale scale, Temperature temperature) =>
        scale == TemperatureScale.Celsius ? temperature.Celsius : temperature.Fahrenheit;
}
