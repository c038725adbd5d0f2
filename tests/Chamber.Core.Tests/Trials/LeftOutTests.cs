using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Trials;
using Chamber.Testing;
using MathNet.Numerics;

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
    [InlineData("wheat")]
    [InlineData("rice")]
    public void Where_a_parabola_foretells_better_the_fit_says_the_law_fails(string crop)
    {
        var fit = TrialFit.Of(Published(crop));
        Left[] left = [.. fit.Curves.Select((curve, at) => new Left(crop, curve.Temperature.Celsius, at == 0 || at == fit.Curves.Count - 1,
            Log(curve.WithoutHalfDays, curve.HalfDays), Log(curve.SmoothHalfDays, curve.HalfDays)))];
        Print(left);
        var (law, smooth) = (Rms(left, each => each.Law), Rms(left, each => each.Smooth));
        output.WriteLine($"law {law:0.00}, parabola {smooth:0.00}; law holds: {fit.Goodness.Holds} (deviance "
            + $"{fit.Goodness.Deviance:0.0} of {fit.Goodness.Freedom})");
        Assert.Equal(20 * fit.Curves.Count, fit.Tallies.Sum(tally => tally.Seeds));
        Assert.True(fit.Goodness.Holds ? law <= smooth : fit.Goodness.Dispersion > 2);
    }

    [Fact]
    public void On_the_1954_table_the_law_is_better_at_the_edges_and_alike_inside()
    {
        Left[] left = [.. EmergenceTable.Rows.SelectMany(row => Cells(row.Key, row.Value))];
        Print([.. left.Where(each => Math.Max(Left.Error(each.Law), Left.Error(each.Smooth)) > 0.5)]);
        var (edges, inside) = (Both(left, true), Both(left, false));
        Assert.True(edges.Law < edges.Smooth);
        Assert.True(inside.Law < edges.Law && inside.Law - inside.Smooth < 0.03);
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
