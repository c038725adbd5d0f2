using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Trials;
using Chamber.Testing;
using MathNet.Numerics;
using MathNet.Numerics.Statistics;

namespace Chamber.Core.Tests.Trials;

/// <summary>
/// What is foretold of a temperature from the others alone, by the law and by a parabola through ln of the rates, on published trials
/// (tests/cases/trials) and on the days of J.F. Harrington &amp; P.A. Minges (1954).
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class LeftOutTests(ITestOutputHelper output)
{
    private sealed record Left(string Crop, double Celsius, bool IsEdge, double? Law, double? Smooth)
    {
        /// <summary>As in the fit: what is never foretold counts as off by e².</summary>
        public static double Error(double? log) => log is { } known ? Math.Min(2, Math.Abs(known)) : 2;
    }

    [Theory]
    [InlineData("wheat", true, true)]
    [InlineData("rice", true, false)]
    public void The_fit_forecasts_by_what_foretells_left_out_days_better(string crop, bool inside, bool beyond)
    {
        var fit = TrialFit.Of(Published(crop));
        Left[] left = [.. fit.Curves.Select((curve, at) => new Left(crop, curve.Temperature.Celsius, at == 0 || at == fit.Curves.Count - 1,
            Log(curve.WithoutHalfDays, curve.HalfDays), Log(curve.SmoothHalfDays, curve.HalfDays)))];
        Print(left);
        var choice = fit.Choice!;
        output.WriteLine($"inside law {choice.Inside.Law:0.00}, smooth {choice.Inside.Smooth:0.00}; edges {choice.Edges.Law:0.00}, "
            + $"{choice.Edges.Smooth:0.00}; law holds: {fit.Goodness.Holds} (deviance {fit.Goodness.Deviance:0.0})");
        Assert.Equal(20 * fit.Curves.Count, fit.Tallies.Sum(tally => tally.Seeds));
        Assert.Equal(Rms([.. left.Where(each => !each.IsEdge)], each => each.Law), choice.Inside.Law, 1e-9);
        Assert.Equal(Rms([.. left.Where(each => each.IsEdge)], each => each.Smooth), choice.Edges.Smooth, 1e-9);
        Assert.Equal((inside, beyond), (choice.Inside.SmoothIsBetter, choice.Edges.SmoothIsBetter));
        Assert.True(!fit.Goodness.Holds && fit.Goodness.Dispersion > 2);
    }

    [Fact]
    public void A_law_that_holds_loses_little_to_the_choice()
    {
        // Drawn by the law, whose days at temperatures between the trials are known.
        double[] tried = [12, 15, 18, 21, 24, 27, 30, 33], between = [13, 16, 19, 22, 25, 28, 31];
        var (law, chosen, smooth) = (new List<double>(), new List<double>(), 0);
        foreach (var home in Enumerable.Range(0, 12))
        {
            var fit = TrialFit.Of(SimulatedTrials.Usual.Draw(900 + home, 60, 0.5, 40, tried));
            var used = fit.Choice?.HalfDays is { } days ? fit.Cardinals with { Tried = TriedWarmth.Of(days, fit.Half, fit.Cardinals) }
                : fit.Cardinals;
            smooth += fit.Choice!.Inside.SmoothIsBetter ? 1 : 0;
            foreach (var at in between.Select(Temperature.FromCelsius))
            {
                var truth = 2400 / 24 / SimulatedTrials.Cardinals.EffectiveWarmth(at);
                law.Add(Math.Log(fit.Half.CelsiusDays / fit.Cardinals.EffectiveWarmth(at) / truth));
                chosen.Add(Math.Log(fit.Half.CelsiusDays / used.EffectiveWarmth(at) / truth));
            }
        }

        output.WriteLine($"smooth in {smooth} of 12; off the truth by {RmsOf(law):0.000} by the law, {RmsOf(chosen):0.000} as chosen");
        Assert.True(RmsOf(chosen) < RmsOf(law) + 0.03);
        Assert.True(smooth <= 4);

        static double RmsOf(List<double> errors) => Math.Sqrt(errors.Average(error => error * error));
    }

    [Fact]
    public void On_the_1954_table_the_law_is_better_at_the_edges_and_alike_inside()
    {
        Left[] left = [.. EmergenceTable.Rows.SelectMany(row => Cells(row.Key, row.Value))];
        Print([.. left.Where(each => Math.Max(Left.Error(each.Law), Left.Error(each.Smooth)) > 0.5)]);
        var (edges, inside) = (Both(left, true), Both(left, false));
        Assert.True(edges.Law < edges.Smooth);

        // By how much the law's squares are more, crop by crop, against how crops differ in that: no more than chance.
        var byCrop = left.Where(each => !each.IsEdge).GroupBy(each => each.Crop)
            .Select(crop => crop.Sum(each => Math.Pow(Left.Error(each.Law), 2) - Math.Pow(Left.Error(each.Smooth), 2))).ToArray();
        var (mean, deviation) = (byCrop.Mean(), byCrop.StandardDeviation() / Math.Sqrt(byCrop.Length));
        var all = (Law: Rms(left, each => each.Law), Smooth: Rms(left, each => each.Smooth));
        output.WriteLine($"inside, law less parabola, squares of a crop: {mean:0.0000} ± {deviation:0.0000} over {byCrop.Length} crops; "
            + $"all {left.Length} cells: law {all.Law:0.000}, parabola {all.Smooth:0.000}");
        Assert.True(inside.Law < edges.Law && mean < 2 * deviation);
        Assert.True(all.Law < all.Smooth);
    }

    private (double Law, double Smooth) Both(Left[] left, bool isEdge)
    {
        Left[] some = [.. left.Where(each => each.IsEdge == isEdge)];
        var (law, smooth) = (Rms(some, each => each.Law), Rms(some, each => each.Smooth));
        output.WriteLine($"{(isEdge ? "edges" : "inside")}: {some.Length} cells, law {law:0.000}, parabola {smooth:0.000}");
        return (law, smooth);
    }

    private static IEnumerable<Left> Cells(string row, IReadOnlyList<EmergenceCell> all)
    {
        var fastest = all.Where(cell => cell.HasDays).OrderBy(cell => cell.Days).ThenBy(cell => cell.Temperature).First();
        EmergenceCell[] rising = [.. all.Where(cell =>
            cell.HasDays && cell.Temperature.Celsius >= 10 && cell.Temperature <= fastest.Temperature)];
        foreach (var left in rising.Length < 4 ? [] : rising)
        {
            EmergenceCell[] rest = [.. rising.Where(cell => cell != left)];
            var fit = EmergenceTableFit.Fit(rest, null);
            var celsius = Math.Min(left.Temperature.Celsius, fit.Cardinals.OptimumLow.Celsius);
            var law = EmergenceTableFit.DaysAt(fit.Cardinals, fit.HalfWarmHours, Temperature.FromCelsius(celsius));
            var parabola = Fit.Polynomial([.. rest.Select(cell => cell.Temperature.Celsius)],
                [.. rest.Select(cell => -Math.Log(cell.Days!.Value))], Math.Min(2, rest.Length - 1));
            yield return new(row, left.Temperature.Celsius, left == rising[0] || left == rising[^1], Log(law, left.Days),
                Log(Math.Exp(-Polynomial.Evaluate(left.Temperature.Celsius, parabola)), left.Days));
        }
    }

    private static IReadOnlyList<TrialCount> Published(string crop) =>
        [.. CsvTable.Parse(File.ReadAllText(SourceTree.Path("tests", "cases", "trials", "three-crops.csv"))).Rows
            .Where(row => row.Text("crop") == crop)
            .Select(row => new TrialCount(Temperature.FromCelsius(row.Number("celsius")), row.Number("from_days"),
                row.Text("to_days").Length == 0 ? null : row.Number("to_days"), (int)row.Number("count")))];

    private void Print(Left[] left)
    {
        foreach (var each in left)
        {
            output.WriteLine($"{each.Crop,-12} {each.Celsius,3} °C {(each.IsEdge ? "edge" : "    ")} ln off: law {each.Law:0.00}, parabola "
                + $"{each.Smooth:0.00}");
        }
    }

    private static double? Log(double? foretold, double? days) => foretold is { } one && days is { } other ? Math.Log(one / other) : null;

    private static double Rms(Left[] left, Func<Left, double?> of) =>
        Math.Sqrt(left.Average(each => Math.Pow(Left.Error(of(each)), 2)));
}
