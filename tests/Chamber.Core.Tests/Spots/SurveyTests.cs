using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using FsCheck.Xunit;
using NodaTime;
using static Chamber.Core.Tests.Climate.Traces;

namespace Chamber.Core.Tests.Spots;

/// <summary>
/// Coverage and confidence worked out by hand from the rules in docs/arithmetic.md, which are the program's own, no source.
/// </summary>
public sealed class SurveyTests
{
    [Theory]
    [InlineData(71, SurveyStage.Provisional)]
    [InlineData(72, SurveyStage.Usable)]
    [InlineData(167, SurveyStage.Usable)]
    [InlineData(168, SurveyStage.Normal)]
    public void A_survey_is_provisional_until_72_hours_and_normal_at_seven_days(int hours, SurveyStage stage) =>
        Assert.Equal(stage, Survey(hours, _ => 20).Stage);

    [Fact]
    public void Coverage_counts_the_time_and_the_hours_of_day_that_were_measured()
    {
        Assert.Equal(1, Survey(72, _ => 20).Coverage, 1e-9);

        // Only noon to six in the evening, on four days.
        var afternoons = Enumerable.Range(0, 4).SelectMany(day => Every(10, day, 18, _ => 20).Where(sample => sample.At >= At(day, 12)));
        var survey = Core.Spots.Survey.Of(TemperatureTrace.Of(afternoons, TwoHours), DateTimeZone.Utc);
        Assert.Equal(6, survey.HoursOfDay);
        Assert.Equal(24 / 78.0 * 6 / 24, survey.Coverage, 1e-9);
        Assert.Null(survey.Usual.Hours[3]);
    }

    [Fact]
    public void Confidence_rests_on_coverage_days_kind_of_probe_and_calibration()
    {
        Assert.Equal(100, Measured(168, Measurand.Media, calibrated: true).Confidence, 1e-6);
        Assert.Equal(70, Measured(168, Measurand.Air, calibrated: true).Confidence, 1e-6);
        Assert.Equal(80, Measured(168, Measurand.Media, calibrated: false).Confidence, 1e-6);
        Assert.Equal(100 * 3 / 7.0, Measured(72, Measurand.Media, calibrated: true).Confidence, 1e-6);
        Assert.Equal(0, Core.Spots.Survey.Of(TemperatureTrace.Of([], TwoHours), DateTimeZone.Utc).Confidence);
    }

    [Fact]
    public void A_spot_that_stays_two_degrees_off_for_a_day_and_more_has_moved_away()
    {
        var survey = Survey(168, hour => 20 + 3 * Math.Sin(hour * Math.PI / 12));
        Assert.False(survey.HasMovedAway(Later(72, hour => 21.5 + 3 * Math.Sin(hour * Math.PI / 12))));
        Assert.False(survey.HasMovedAway(Later(36, hour => 23 + 3 * Math.Sin(hour * Math.PI / 12))));
        Assert.True(survey.HasMovedAway(Later(72, hour => 22.5 + 3 * Math.Sin(hour * Math.PI / 12))));
        Assert.True(survey.HasMovedAway(Later(72, hour => 17.5 + 3 * Math.Sin(hour * Math.PI / 12))));
    }

    [Property(MaxTest = 60)]
    public void The_steps_of_a_survey_give_the_exact_warm_hours_back(byte amplitude, byte level, byte period)
    {
        var trace = TemperatureTrace.Of(
            Every(6, 0, 24, hour => 8 + level / 12.0 + amplitude / 16.0 * Math.Sin(hour * (1 + period / 50.0))), TwoHours);
        var shipped = CropCatalog.Shipped.Require("tomato");
        var cardinals = shipped.Profile.Cardinals;
        var tomato =
            shipped with { Profile = shipped.Profile with { Cardinals = new(cardinals.Base, cardinals.OptimumLow, cardinals.OptimumHigh,
            cardinals.Ceiling) } };
        var exact = WarmthFold.Over(trace, tomato.Limits, DateTimeZone.Utc).Total;
        var usual = CropDays.Of(Core.Spots.Survey.Of(trace, DateTimeZone.Utc), tomato).Usual;
        var hours = exact.MeasuredTime.TotalHours;
        Assert.Equal(exact.Measured.CelsiusHours / hours, usual.Progress / 24, 1e-6);
        Assert.Equal(exact.HoursBelow / hours, usual.HoursBelow / 24, 1e-6);
        Assert.Equal(exact.HoursAbove / hours, usual.HoursAbove / 24, 1e-6);

        // Within a step of 0.1 °C the foot is a square: the mean of its squares is off by no more than 0.1²/12 in 4 · 9.
        var bent = WarmthFold.Over(trace, shipped.Limits, DateTimeZone.Utc).Total.Measured.CelsiusHours / hours;
        Assert.Equal(bent, CropDays.Of(Core.Spots.Survey.Of(trace, DateTimeZone.Utc), shipped).Usual.Progress / 24, 2.5e-5);
    }

    internal static Survey Survey(int hours, Func<double, double> celsius) =>
        Core.Spots.Survey.Of(TemperatureTrace.Of(Every(10, 0, hours, celsius), TwoHours), DateTimeZone.Utc);

    private static Survey Measured(int hours, Measurand measurand, bool calibrated) => Core.Spots.Survey.Of(
        TemperatureTrace.Of(Every(10, 0, hours, _ => 20), TwoHours, new(new ProbeId("p"), measurand, calibrated)), DateTimeZone.Utc);

    private static IReadOnlyList<HourlyMean> Later(int hours, Func<double, double> celsius) =>
        HourlyMeans.Of(TemperatureTrace.Of(Every(10, 7, hours, celsius), TwoHours), DateTimeZone.Utc);
}
