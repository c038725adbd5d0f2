using System.Globalization;
using Chamber.Core.Statistics;
using Chamber.Testing;

namespace Chamber.Core.Tests.Statistics;

public class GerminationMeasuresTests
{
    [Fact]
    public void The_worked_example_gives_the_values_of_the_published_formulas()
    {
        // tests/cases/germination-measures/README.md: each formula with author and year; the counts are made up.
        (double, int)[] looks = [.. File.ReadLines(SourceTree.Path("tests", "cases", "germination-measures", "fifty-seeds.csv")).Skip(1)
            .Select(line => line.Split(',')).Select(
                cells => (double.Parse(cells[0], CultureInfo.InvariantCulture), int.Parse(cells[2], CultureInfo.InvariantCulture)))];

        var measures = GerminationMeasures.Of(50, looks);

        Assert.Equal(88, measures.FinalPercent, 9);
        Assert.Equal(5.613636, measures.MeanDays!.Value, 6);
        Assert.Equal(1.645514, measures.DeviationDays!.Value, 6);
        Assert.Equal(29.3128, measures.VariationPercent!.Value, 4);
        Assert.Equal(17.81377, measures.Speed!.Value, 5);
        Assert.Equal(4.958333, measures.HalfDays!.Value, 6);
        Assert.Equal(4.916667, measures.HalfDaysOfAll!.Value, 6);
        Assert.Equal(8.500830, measures.SpeedIndex!.Value, 6);
        Assert.Equal(2.612650, measures.UncertaintyBits!.Value, 6);
        Assert.Equal(0.169133, measures.Synchrony!.Value, 6);
    }

    [Fact]
    public void Nothing_up_has_a_percent_and_no_times()
    {
        var measures = GerminationMeasures.Of(12, [(3, 0), (9, 0)]);

        Assert.Equal(0, measures.FinalPercent);
        Assert.Null(measures.MeanDays);
        Assert.Null(measures.HalfDays);
    }

    [Fact]
    public void One_seed_has_no_spread()
    {
        var measures = GerminationMeasures.Of(12, [(3, 0), (4, 1)]);

        Assert.Equal(4, measures.MeanDays);
        Assert.Null(measures.DeviationDays);
        Assert.Null(measures.Synchrony);
        Assert.Equal(0, measures.UncertaintyBits);
    }

    [Fact]
    public void All_at_one_look_are_in_step() =>
        Assert.Equal(1, GerminationMeasures.Of(10, [(5, 8)]).Synchrony);

    [Fact]
    public void A_count_that_falls_is_refused() =>
        Assert.Throws<ArgumentException>(() => GerminationMeasures.Of(10, [(3, 4), (5, 3)]));
}
