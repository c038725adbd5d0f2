using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.BeforeSowing;
using Chamber.Core.Spots;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Integration;
using NodaTime;

namespace Chamber.Core.Tests.Crops;

/// <summary>
/// Heat by one mechanism, the distribution of the seeds' ceilings, against the warm cells of J.F. Harrington &amp; P.A. Minges, Vegetable
/// Seed Germination, 1954, and against the alternating temperatures at which laboratories test (7 CFR 201.58, Table 2).
/// </summary>
public sealed class HeatTests(ITestOutputHelper output)
{
    [Fact]
    public void The_warm_cells_come_out_slower_and_fewer_and_none()
    {
        var (shares, days) = (new List<double>(), new List<double>());
        foreach (var (row, fit) in CatalogReader.ShippedFits())
        {
            var cells = EmergenceTable.Rows[row];
            var best = cells.Where(cell => cell.Share is not null).MaxBy(cell => cell.Share!.Value);
            var fastest = cells.Where(cell => cell.HasDays).OrderBy(cell => cell.Days).ThenBy(cell => cell.Temperature).First();
            foreach (var cell in cells.Where(cell => cell.Temperature > best.Temperature && cell.Share is not null))
            {
                shares.Add(fit.Cardinals.Ceilings!.ShareAbove(cell.Temperature) - cell.Share!.Value / best.Share!.Value);
                output.WriteLine($"{row,-12} {cell.Temperature}: share {cell.Share / best.Share:0.00}, {shares[^1]:+0.00;-0.00} off");
            }

            foreach (var cell in cells.Where(cell => cell.HasDays && cell.Temperature > fastest.Temperature))
            {
                days.Add(Math.Log(EmergenceTableFit.DaysAt(fit.Cardinals, fit.HalfWarmHours, cell.Temperature)!.Value / cell.Days!.Value));
                output.WriteLine($"{row,-12} {cell.Temperature}: {cell.Days} d measured, {cell.Days * Math.Exp(days[^1]):0.0}");
            }
        }

        output.WriteLine($"{shares.Count} shares, root mean square {Rms(shares):0.000}; {days.Count} days, of ln {Rms(days):0.00}");
        Assert.True(shares.Count >= 45 && Rms(shares) < 0.08);
        Assert.True(days.Count >= 15 && Rms(days) < 0.25);
    }

    [Fact]
    public void A_share_left_out_is_foretold_about_as_well_as_by_its_two_neighbours()
    {
        var (normal, line) = (new List<double>(), new List<double>());
        foreach (var (row, cells) in EmergenceTable.Rows)
        {
            var fit = CatalogReader.ShippedFits()[row].Cardinals;
            var best = cells.Max(cell => cell.Share ?? 0);
            var full = cells.First(one => one.Share >= best - 1e-9).Temperature;
            var warm = cells.Where(cell => cell.Share is not null && cell.Temperature >= full).ToArray();
            for (var i = 1; i < warm.Length - 1; i++)
            {
                var left = warm[i];
                var without = CeilingFit.Fit([.. cells.Where(cell => cell != left)], fit.OptimumLow.Celsius, null);
                normal.Add(without.ShareAbove(left.Temperature) - left.Share!.Value / best);
                line.Add((warm[i - 1].Share!.Value + warm[i + 1].Share!.Value) / 2 / best - left.Share.Value / best);
            }
        }

        output.WriteLine($"{normal.Count} shares left out: ceilings {Rms(normal):0.000}, straight line {Rms(line):0.000}");
        Assert.True(Rms(normal) < 1.2 * Rms(line));
    }

    [Fact]
    public void Warm_hours_in_heat_are_the_integral_of_the_pace()
    {
        var random = new Random(11);
        foreach (var cardinals in CropCatalog.Shipped.Crops.Select(crop => crop.Profile.Cardinals))
        {
            var (from, to) = (15 + 30 * random.NextDouble(), 15 + 30 * random.NextDouble());
            var (low, high) = (Math.Min(from, to), Math.Max(from, to));

            // Between the steps of the pace the curve is straight, so a rule that knows of no step still comes near with many parts.
            var sum = Enumerable.Range(0, 4000).Sum(i => GaussLegendreRule.Integrate(
                cardinals.EffectiveWarmth, low + (high - low) * i / 4000, low + (high - low) * (i + 1) / 4000, 4));
            Assert.Equal(sum / (high - low), cardinals.MeanEffectiveWarmth(from, to), 1e-6 * (1 + cardinals.BestWarmth));
        }
    }

    [Fact]
    public void Half_of_the_seeds_left_are_at_their_pace_by_a_thousand_draws()
    {
        // Drawn, not calculated: ceilings of 34 ± 4 °C, each seed slowed over its last 3 K.
        var ceilings = new SeedCeilings(Temperature.FromCelsius(34), 4, 3);
        var random = new Random(5);
        var drawn = Enumerable.Range(0, 200_000).Select(_ => Normal.Sample(random, 34, 4)).ToArray();
        foreach (var celsius in new double[] { 28, 31, 33, 35, 37, 39 })
        {
            var left = drawn.Where(ceiling => ceiling > celsius).Order().ToArray();
            Assert.Equal(left.Length / (double)drawn.Length, ceilings.ShareAbove(Temperature.FromCelsius(celsius)), 0.005);
            Assert.Equal(Math.Min(1, (left[left.Length / 2] - celsius) / 3), ceilings.PaceAt(celsius), 0.02);
        }
    }

    [Fact]
    public void The_official_tests_at_20_and_30_degrees_lose_few_of_any_crop()
    {
        // A laboratory would not test at temperatures that lose a tenth of what the crop can do; steady 30 °C loses half of the snap beans.
        var tested = CropCatalog.Shipped.Crops.Where(crop => crop.Guide!.LabTest is { } test
            && test.Temperatures.StartsWith("20-30", StringComparison.Ordinal)).ToArray();
        var hours = Enumerable.Range(0, 24).Select(hour => Temperature.FromCelsius(hour < 16 ? 20 : 30)).ToArray();
        var lost = tested.ToDictionary(crop => crop.Id.Text, crop => 1 - StandTally.Over(crop, hours).Share(crop.Stand));
        var most = lost.OrderByDescending(each => each.Value).Take(8);
        output.WriteLine(string.Join(", ", most.Select(each => $"{each.Key} {each.Value:0.00}")));
        Assert.True(tested.Length > 30, $"{tested.Length} crops");
        Assert.True(lost.Values.Count(share => share > 0.1) <= tested.Length / 20, "more than one in twenty loses a tenth");
        Assert.True(lost["bean-snap"] < 0.1);
    }

    [Theory]
    [InlineData("bean-snap", 26, 12)]
    [InlineData("tomato", 30, 18)]
    [InlineData("lettuce", 32, 20)]
    [InlineData("pansy", 30, 16)]
    public void A_spot_and_a_forecast_judge_the_same_day_alike(string name, double warm, double cool)
    {
        var crop = Some.Crop(name);
        var hours = Enumerable.Range(0, 24).Select(hour => Temperature.FromCelsius(hour is >= 8 and < 20 ? warm : cool)).ToArray();
        var start = Instant.FromUtc(2026, 3, 1, 0, 0);
        int[] minutes = [0, 59];
        var week = Enumerable.Range(0, 168).SelectMany(hour => minutes.Select(minute =>
            new TemperatureSample(start + Duration.FromHours(hour) + Duration.FromMinutes(minute), hours[hour % 24]))).ToArray();
        var survey = Survey.Of(TemperatureTrace.Of(week, Duration.FromHours(2)), DateTimeZone.Utc);
        var bySpot = new SuitabilityScore(new Random(1)).Of(crop, survey).Parts.StandShare / crop.Stand.Best;
        var course = WarmthCourse.Along(crop.Profile.Cardinals, week, new(start, start + Duration.FromDays(7)), Duration.FromHours(2));

        Assert.Equal(bySpot, StandTally.Over(crop, hours).Share(crop.Stand), 0.02);
        Assert.Equal(bySpot, course.StandShare(crop.Stand, 0), 0.02);
    }

    [Fact]
    public void Lettuce_at_27_degrees_is_in_doubt_because_sorts_differ()
    {
        // 99 % came up at 25 °C, 12 % at 30 °C (1954 table); between the two it hangs on the sort.
        var lettuce = Some.Crop("lettuce");
        var at21 = CropForecast.AtSteady(new(lettuce, 50), Temperature.FromCelsius(21));
        var at28 = CropForecast.AtSteady(new(lettuce, 50), Temperature.FromCelsius(28));
        output.WriteLine($"21 °C: {at21.StandLow} to {at21.StandHigh} of 50; 28 °C: {at28.StandLow} to {at28.StandHigh}");
        Assert.True(at28.StandHigh - at28.StandLow > 1.5 * (at21.StandHigh - at21.StandLow));
    }

    [Fact]
    public void A_derived_crop_does_not_collapse_above_its_band()
    {
        foreach (var crop in CropCatalog.Shipped.Crops.Where(crop => crop.Profile.Origin == ProfileOrigin.Derived))
        {
            var above = crop.IdealBand.High + TemperatureDifference.FromKelvins(2);
            Assert.True(crop.Profile.Cardinals.EffectiveWarmth(above) >= 0.75 * crop.Profile.Cardinals.BestWarmth, crop.Id.Text);
        }
    }

    private static double Rms(IEnumerable<double> errors) => Math.Sqrt(errors.Average(error => error * error));
}
