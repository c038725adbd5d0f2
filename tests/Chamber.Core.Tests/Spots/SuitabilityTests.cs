using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;
using static Chamber.Core.Tests.Climate.Traces;
using static Chamber.Core.Tests.Spots.SurveyTests;

namespace Chamber.Core.Tests.Spots;

/// <summary>
/// Scores of invented spots: days and shares against Harrington &amp; Minges (1954) where a test says so, scores and widths are the
/// program's own, to notice change.
/// </summary>
public sealed class SuitabilityTests
{
    private const int Week = 168;

    private static readonly Crop Tomato = CropCatalog.Shipped.Require("tomato");
    private static readonly Crop Lettuce = CropCatalog.Shipped.Require("lettuce");
    private static readonly Crop Celery = CropCatalog.Shipped.Require("celery");

    [Fact]
    public void A_steady_spot_in_the_ideal_band_scores_near_100()
    {
        var answer = Score(Tomato, Survey(Week, _ => 25));
        Assert.InRange(answer.Score, 95, 100);
        Assert.Equal(Tomato.Profile.DaysToHalf(Celsius(25))!.Value, answer.DaysToHalf!.Value, 0.01);
        Assert.Equal(0.97, answer.Parts.StandShare, 0.01);
    }

    [Fact]
    public void A_cool_spot_loses_by_its_speed()
    {
        // 103 °C·d over 7.6 °C (Harrington & Minges 1954, fitted outside this program) is 12.3 days at 16 °C, half of the best
        // speed; the usual 6 to 14 days in a room lie beyond by a factor of 1.4, and weigh as much.
        var answer = Score(Tomato, Survey(Week, _ => 16));
        Assert.Equal(12.3 * Math.Sqrt(1.4), answer.DaysToHalf!.Value, 0.5);
        Assert.Equal(0.5, answer.Parts.SpeedShare, 0.03);
        Assert.Equal(24, answer.Parts.HoursBelow, 0.1);
        Assert.InRange(answer.Score, 45, 52);
    }

    [Fact]
    public void Hours_of_heat_cost_lettuce_its_stand_and_the_sentence_says_so()
    {
        // 99 % at 25 °C and 12 % at 30 °C (Harrington & Minges 1954): days of 31 °C and nights of 24 °C lie between the two.
        var ranked = Rank(Lettuce, Survey(Week, hour => hour % 24 is > 8 and < 20 ? 31 : 24));
        Assert.InRange(ranked.Suitability.Parts.HoursAbove, 11, 13);
        Assert.InRange(ranked.Suitability.Parts.StandShare, 0.4, 0.8);
        Assert.Contains("h a day above 27.0 °C cost seedlings", ranked.Because(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_swing_is_scored_by_its_cold_and_hot_hours_and_not_by_its_size()
    {
        // The laboratory test of tomato alternates 20 °C for 16 h and 30 °C for 8 h (7 CFR 201.58).
        var answer = Score(Tomato, Survey(Week, hour => hour % 24 < 16 ? 20 : 29.9));
        Assert.InRange(answer.Parts.Swing.Kelvins, 9, 10.5);
        Assert.InRange(answer.Score, 70, 95);
        Assert.Equal(0, answer.Parts.HoursBelow, 1e-6);
    }

    [Fact]
    public void A_spot_that_reaches_the_ceiling_scores_at_most_40()
    {
        var ranked = Rank(Tomato, Survey(Week, hour => hour % 24 is > 12 and < 14.5 ? 41 : 25));
        Assert.True(ranked.Suitability.HarmfulHeat);
        Assert.True(ranked.Suitability.Score <= 40 && ranked.Suitability.High <= 40);
        Assert.Contains("harms tomato seed", ranked.Because(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_spot_that_never_gets_warm_enough_scores_nothing_and_has_no_day()
    {
        var ranked = Rank(Tomato, Survey(Week, _ => 6));
        Assert.Equal(0, ranked.Suitability.Score);
        Assert.Null(ranked.Suitability.DaysToHalf);
        Assert.Contains("never gets warm enough", ranked.Because(), StringComparison.Ordinal);
    }

    [Fact]
    public void Afternoons_alone_do_not_pass_for_a_day()
    {
        var day = Every(10, 0, Week, hour => hour % 24 is >= 12 and <= 18 ? 26 : 14).ToList();
        var afternoons = day.Where(sample => sample.At.InUtc().Hour is >= 12 and < 18);
        var partial = Score(Tomato, Core.Spots.Survey.Of(TemperatureTrace.Of(afternoons, TwoHours), DateTimeZone.Utc));
        var whole = Score(Tomato, Core.Spots.Survey.Of(TemperatureTrace.Of(day, TwoHours), DateTimeZone.Utc));
        Assert.True(partial.Confidence < whole.Confidence / 4, $"{partial.Confidence} against {whole.Confidence}");
    }

    [Fact]
    public void The_interval_widens_with_days_that_differ_and_repeats_with_its_seed()
    {
        var steady = Score(Tomato, Survey(Week, _ => 20));
        var wandering = Survey(Week, hour => 20 + 4 * Math.Sin(Math.Floor(hour / 24) * 2.4));
        var answer = Score(Tomato, wandering);
        Assert.True(answer.Low < answer.Score && answer.Score < answer.High);
        Assert.True(answer.High - answer.Low > 1.2 * (steady.High - steady.Low));
        Assert.InRange(answer.High - answer.Low, 5, 40);
        Assert.Equal(answer, Score(Tomato, wandering));
    }

    [Theory]
    [InlineData("tomato", 18)]
    [InlineData("tomato", 25)]
    [InlineData("basil", 27)]
    [InlineData("lettuce", 26)]
    [InlineData("pepper-sweet", 29.8)]
    public void The_interval_is_never_narrower_than_what_the_probe_may_be_off(string crop, double celsius)
    {
        Func<double, double>[] shapes = [_ => celsius, hour => celsius + 2 * Math.Sin(hour / 12 * Math.PI),
            hour => celsius + Math.Sin(Math.Floor(hour / 24) * 2.4)];
        foreach (var shape in shapes)
        {
            var (known, asked) = (CropCatalog.Shipped.Require(crop), Score(CropCatalog.Shipped.Require(crop), Survey(Week, shape)));
            foreach (var off in (double[])[-0.5, 0.5])
            {
                Assert.InRange(Score(known, Survey(Week, hour => shape(hour) + off)).Score, asked.Low - 0.05, asked.High + 0.05);
            }
        }
    }

    [Fact]
    public void A_steady_mat_that_is_not_at_its_best_has_an_interval_both_ways()
    {
        var answer = Score(Tomato, Survey(Week, _ => 18));
        Assert.InRange(answer.Score - answer.Low, 2, 10);
        Assert.InRange(answer.High - answer.Score, 2, 10);
    }

    [Fact]
    public void On_the_plateau_the_interval_is_narrow_upward_and_reaches_down()
    {
        var edge = Score(Tomato, Survey(Week, _ => Tomato.Profile.Cardinals.OptimumLow.Celsius + 0.1));
        Assert.InRange(edge.High - edge.Score, 0, 0.5);
        Assert.InRange(edge.Score - edge.Low, 1, 6);
    }

    [Fact]
    public void A_calibrated_probe_narrows_the_interval()
    {
        var (known, unknown) = (Score(Tomato, Calibrated(true)), Score(Tomato, Calibrated(false)));
        Assert.Equal(0.4, (known.High - known.Low) / (unknown.High - unknown.Low), 0.03);

        static Survey Calibrated(bool calibrated) => Core.Spots.Survey.Of(
            TemperatureTrace.Of(Every(10, 0, Week, _ => 18), TwoHours, new(new ProbeId("p"), Measurand.Media, calibrated)),
                DateTimeZone.Utc);
    }

    [Fact]
    public void Half_a_degree_from_harm_the_low_end_knows_it()
    {
        var answer = Score(Tomato, Survey(Week, hour => hour % 24 is > 12 and < 14.5 ? 39.8 : 25));
        Assert.False(answer.HarmfulHeat);
        Assert.True(answer.Score > 40 && answer.Low <= 40);
    }

    [Fact]
    public void A_single_day_has_no_interval_to_speak_of()
    {
        var answer = Score(Tomato, Survey(20, _ => 25));
        Assert.Equal((0.0, 100.0), (answer.Low, answer.High));
        Assert.Equal(SurveyStage.Provisional, answer.Stage);
    }

    [Fact]
    public void Spots_rank_best_first_and_a_dark_one_last_for_a_light_needing_crop()
    {
        SurveyedSpot[] spots =
        [
            new(new(new("sill"), SpotKind.Sill, LightLevel.Bright, 4), Survey(Week, _ => 17)),
            new(new(new("boiler-cupboard"), SpotKind.BoilerCupboard, LightLevel.Dark, 6), Survey(Week, _ => 20.5)),
            new(new(new("router-shelf"), SpotKind.Electronics, LightLevel.Dim, 2), Survey(Week, _ => 20)),
        ];
        Assert.Equal(["boiler-cupboard", "router-shelf", "sill"], Names(Tomato));
        Assert.Equal(["router-shelf", "sill", "boiler-cupboard"], Names(Celery));
        Assert.Contains("needs light", SpotRanking.ForCrop(Celery, spots, new Random(1))[^1].Because(), StringComparison.Ordinal);

        IEnumerable<string> Names(Crop crop) => SpotRanking.ForCrop(crop, spots, new Random(1)).Select(ranked => ranked.Spot.Id.Text);
    }

    [Fact]
    public void Crops_are_ranked_for_a_spot()
    {
        var cool = new SurveyedSpot(new(new("hall"), SpotKind.Shelf, LightLevel.Bright, 4), Survey(Week, _ => 12));
        var ranking = SpotRanking.ForSpot(cool, [.. "eggplant spinach tomato onion".Split(' ').Select(CropCatalog.Shipped.Require)],
            new Random(1));
        Assert.Equal("eggplant", ranking[^1].Crop.Id.Text);
        Assert.True(ranking.Select(ranked => ranked.Suitability.Score)
            .SequenceEqual(ranking.Select(ranked => ranked.Suitability.Score).OrderDescending()));
    }

    [Fact]
    public void A_spot_without_readings_says_so()
    {
        var ranked = Rank(Tomato, Core.Spots.Survey.Of(TemperatureTrace.Of([], TwoHours), DateTimeZone.Utc));
        Assert.Equal(0, ranked.Suitability.Confidence);
        Assert.Equal("Not enough readings to rate it for tomato.", ranked.Because());
    }

    private static Suitability Score(Crop crop, Survey survey) => new SuitabilityScore(new Random(7)).Of(crop, survey);

    private static RankedSpot Rank(Crop crop, Survey survey) => SpotRanking.ForCrop(
        crop, [new(new(new("shelf"), SpotKind.Shelf, LightLevel.Bright, 3), survey)], new Random(7)).Single();
}
