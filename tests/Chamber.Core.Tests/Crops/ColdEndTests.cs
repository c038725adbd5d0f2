using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts.BeforeSowing;

namespace Chamber.Core.Tests.Crops;

/// <summary>
/// The foot of the curve against the cells below 10 °C of J.F. Harrington &amp; P.A. Minges, Vegetable Seed Germination, 1954, to which no
/// curve is fitted.
/// </summary>
public sealed class ColdEndTests(ITestOutputHelper output)
{
    private static readonly double[] Feet = [0, 5, 7, 8, 9, 10, 11];

    private sealed record Cell(string Row, double Celsius, double Days, double Predicted)
    {
        public bool IsNear => Predicted >= 0.75 * Days && Predicted <= 1.25 * Days;

        public double Log => Math.Min(2, Math.Abs(Math.Log(Predicted / Days)));
    }

    [Fact]
    public void The_cold_end_is_no_wall_on_cells_that_no_curve_was_fitted_to()
    {
        var byFoot = Feet.ToDictionary(foot => foot, Cold);
        foreach (var foot in Feet)
        {
            output.WriteLine($"foot {foot,2} K: {byFoot[foot].Count(cell => cell.IsNear),2} of {byFoot[foot].Length} cold cells within a "
                + $"quarter, root mean square of ln {Rms(byFoot[foot]):0.00}; warm cells within a day {Warm(foot):0.0%}");
        }

        output.WriteLine(string.Join(Environment.NewLine, byFoot[CardinalTemperatures.UsualFootKelvins].Zip(byFoot[0], (cell, corner) =>
            $"{cell.Row,-10} {cell.Celsius} °C: {cell.Days} d measured, {cell.Predicted:0} with the foot, {corner.Predicted:0} "
                + $"with a corner")));

        // Choosing the foot without the row that it is then tried on.
        var leftOut = byFoot[0].Select(cell => cell.Row).Distinct().SelectMany(row =>
        {
            var best = Feet.MinBy(foot => Rms(byFoot[foot].Where(cell => cell.Row != row)));
            return byFoot[best].Where(cell => cell.Row == row);
        }).ToArray();
        output.WriteLine($"foot chosen without the crop: {leftOut.Count(cell => cell.IsNear)} of {leftOut.Length}, {Rms(leftOut):0.00}");

        Assert.Equal(13, byFoot[0].Length);
        Assert.True(byFoot[0].Count(cell => cell.IsNear) <= 4);
        Assert.True(byFoot[CardinalTemperatures.UsualFootKelvins].Count(cell => cell.IsNear) >= 10);
        Assert.True(leftOut.Count(cell => cell.IsNear) >= 8);
        Assert.True(Rms(leftOut) < 0.3 && Rms(byFoot[0]) > 1);
        Assert.Equal(CardinalTemperatures.UsualFootKelvins, Feet.MinBy(foot => Rms(byFoot[foot])), 1.0);
        Assert.True(Warm(CardinalTemperatures.UsualFootKelvins) >= Warm(0));
    }

    [Theory]
    [InlineData("lettuce", 3, true)]
    [InlineData("onion", 0, true)]
    [InlineData("tomato", 5, false)]
    [InlineData("cucumber", 10, false)]
    [InlineData("pepper-sweet", 10, false)]
    [InlineData("melon", 15, false)]
    [InlineData("basil", 5, false)]
    public void Tender_crops_stay_no_where_the_table_says_none(string name, double celsius, bool comes)
    {
        // Lettuce: 98 % at 0 °C after 49 days, onion 90 % after 136; tomato at 5, cucumber and pepper at 10 °C none (1954 table).
        var crop = Some.Crop(name);
        var forecast = CropForecast.AtSteady(new(crop, 12), Temperature.FromCelsius(celsius));
        output.WriteLine($"{name} at {celsius} °C: {forecast.Half.Mid?.TotalDays:0} days, {forecast.StandLow} to {forecast.StandHigh} of "
            + $"12; by warmth alone {crop.Profile.DaysToHalf(Temperature.FromCelsius(celsius)):0} days");
        Assert.Equal(comes, !forecast.NoneLikely);
        Assert.Equal(comes ? null : CauseKind.TooCold, forecast.NoneBecause);
    }

    private static Cell[] Cold(double foot) =>
        [.. EmergenceTable.Rows.SelectMany(row => row.Value.Where(cell => cell.HasDays && cell.Temperature.Celsius < 10)
            .Select(cell => (row.Key, cell)))
            .Select(one => new Cell(one.Key, one.cell.Temperature.Celsius, one.cell.Days!.Value,
                Days(one.Key, foot, one.cell.Temperature)))];

    private static double Days(string row, double foot, Temperature temperature)
    {
        var fit = Fits.GetOrAdd((row, foot), key => EmergenceTableFit.Fit(EmergenceTable.Rows[key.Row], null, key.Foot));
        return EmergenceTableFit.DaysAt(fit.Cardinals, fit.HalfWarmHours, temperature) ?? double.PositiveInfinity;
    }

    private static readonly System.Collections.Concurrent.ConcurrentDictionary<(string Row, double Foot), TableFit> Fits = new();

    private static double Warm(double foot)
    {
        var errors = EmergenceTable.Rows.SelectMany(row =>
        {
            var fastest = row.Value.Where(cell => cell.HasDays).OrderBy(cell => cell.Days).ThenBy(cell => cell.Temperature).First();
            return row.Value.Where(cell => cell.HasDays && cell.Temperature.Celsius >= 10 && cell.Temperature <= fastest.Temperature)
                .Select(cell => Math.Abs(Days(row.Key, foot, cell.Temperature) - cell.Days!.Value));
        }).ToArray();
        return errors.Count(error => error <= 1) / (double)errors.Length;
    }

    private static double Rms(IEnumerable<Cell> cells) => Math.Sqrt(cells.Average(cell => cell.Log * cell.Log));
}
