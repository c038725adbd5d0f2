using Chamber.Core.Chores;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts.BeforeSowing;
using Chamber.Core.Needs;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Needs;

/// <summary>
/// What seed needs beside warmth and water. Where a check has a published source it stands beside it; days, shares and temperatures of
/// batches are invented, and the rules that they are counted by are the program's own (docs/arithmetic/needs.md).
/// </summary>
public sealed class NeedTests
{
    private static readonly CropNeed Lavender = Some.Crop("lavender").Chill!;
    private static readonly SpotId Fridge = new("fridge");

    [Fact]
    public void Each_need_belongs_to_a_crop_and_names_its_source()
    {
        var rows = NeedReader.Read();
        Assert.All(rows, row => Assert.NotNull(CropCatalog.Shipped.Find(new CropId(row.Key))));
        Assert.All(rows.SelectMany(row => row), need => Assert.True(need.Source.Length > 20, need.Source));
        Assert.All(rows.SelectMany(row => row).Where(need => need.Without is not null),
            need => Assert.Matches("an assumption|not read in the paper", need.Source));
    }

    // A. Dobrowolska & A. Zawadzińska, Int. J. Plant & Soil Sci. (2015), lavender at 4 °C for 0, 4, 6, 8 and 10 weeks: it emerges more
    // fully when chilled, and four weeks are too short for most of the seed that sleeps.
    [Fact]
    public void Four_weeks_are_too_short_for_most_lavender_and_ten_are_not()
    {
        Assert.InRange(Lavender.ShareAfter(0), 0, 0.5);
        Assert.True(Released(28) < 0.5, $"{Released(28)} of the sleeping seed after four weeks");
        Assert.True(Released(70) > 0.95, $"{Released(70)} of the sleeping seed after ten weeks");

        static double Released(double days) => (Lavender.ShareAfter(days) - Lavender.ShareAfter(0)) / (1 - Lavender.ShareAfter(0));
    }

    // F.R. Romero, K. Delate & D.J. Hannapel, HortScience 40 (2005) 1751-1754: 89 % of purple coneflower without the cold and 98 % with
    // it, as others report it; so it is not dated as if it had to be chilled.
    [Fact]
    public void Coneflower_comes_without_a_chill_and_a_little_better_with_one()
    {
        var need = Some.Crop("echinacea").Chill!;
        Assert.False(need.IsNeeded);
        Assert.Equal(0.89 / 0.98, need.ShareAfter(0), 0.01);
        Assert.True(need.ShareAfter(28) > 0.98);
    }

    [Fact]
    public void Lavender_is_dated_with_its_chill_before_the_warmth()
    {
        var crop = Some.Crop("lavender");
        var forecast = CropForecast.AtSteady(new(crop, 20), Temperature.FromCelsius(20));
        var unchilled = crop with { Needs = [] };
        var without = CropForecast.AtSteady(new(unchilled, 20), Temperature.FromCelsius(20));
        Assert.True(forecast.Chill is { IsUnderWay: true, DaysLeft: 42 });
        Assert.Equal(42, (forecast.Half.Mid!.Value - without.Half.Mid!.Value).TotalDays, 0.5);
        Assert.True(forecast.First.Low!.Value.TotalDays > 42);
        Assert.False(forecast.NoneLikely);
    }

    [Theory]
    [InlineData("tomato")]
    [InlineData("delphinium")]
    [InlineData("echinacea")]
    public void What_needs_no_chill_is_dated_as_before(string name)
    {
        var forecast = CropForecast.AtSteady(new(Some.Crop(name), 20), Temperature.FromCelsius(20));
        var without = CropForecast.AtSteady(new(Some.Crop(name) with { Needs = [] }, 20), Temperature.FromCelsius(20));
        Assert.Equal(without.Most.Mid!.Value.TotalDays, forecast.Most.Mid!.Value.TotalDays, 0.4);
    }

    // A line from 20 to 0 °C lies for half of its time under 10 °C; what is too far apart counts for nothing.
    [Fact]
    public void Chill_counts_measured_hours_in_its_band_and_no_gap()
    {
        TemperatureSample[] samples = [At(0, 20), At(10, 0), At(20, 0), At(200, 4), At(201, 4), At(202, -1)];
        Assert.Equal((5 + 10 + 1 + 0.8) / 24, ChillState.DaysOf(Lavender, samples, Days(30), Duration.FromHours(12)), 1e-9);

        static TemperatureSample At(double hour, double celsius) => new(Some.Day(hour / 24), Temperature.FromCelsius(celsius));
    }

    [Fact]
    public void A_stay_in_a_refrigerator_counts_where_nothing_was_measured()
    {
        var batch = Some.Batch() with
        {
            Crop = new("lavender"),
            Stays = [new(Fridge, new(Some.Day(0), Some.Day(30))), new(new("mat"), new(Some.Day(30), null))],
        };
        var maxGap = Duration.FromHours(2);
        var warm = TemperatureTrace.Of([.. Enumerable.Range(0, 24).Select(
            hour => new TemperatureSample(Some.Day(30.1 + hour / 24.0), Temperature.FromCelsius(20)))], maxGap);
        Assert.Equal(30, DaysOf(warm), 0.1);

        // Where a probe says otherwise, it is believed: for a day the door stood open.
        var open = TemperatureTrace.Of([.. Enumerable.Range(0, 25).Select(
            hour => new TemperatureSample(Some.Day(10 + hour / 24.0), Temperature.FromCelsius(15)))], maxGap);
        Assert.Equal(29, DaysOf(open), 0.25);

        double DaysOf(TemperatureTrace trace) => ChillState.DaysOf(Lavender,
            Refrigerator.Filled(batch, trace, Some.Day(31.1), spot => spot == Fridge ? SpotKind.Refrigerator : SpotKind.HeatMat),
            Days(31.1), maxGap);
    }

    [Theory]
    [InlineData(10, true, NeedStatus.UnderWay, "Moist chill: 10 of 42 days so far, 32 to go.")]
    [InlineData(43, true, NeedStatus.Met, "Its moist chill is done: 43 days.")]
    [InlineData(0, false, NeedStatus.Unmet,
        "It needs 21 to 42 days of moist chill at 0 to 10 °C, and has had 0. As it is about 30 % of sound seed can come up.")]
    public void Chill_is_a_state_with_its_days(double days, bool isNow, NeedStatus status, string words)
    {
        var state = NeedState.Of(Some.Crop("lavender"), new() { Chill = new(Lavender, days, isNow) })[0];
        Assert.Equal((status, words), (state.Status, state.Words));
    }

    [Fact]
    public void Temperatures_are_put_as_the_home_puts_them()
    {
        var states = NeedState.Of(Some.Crop("celery"), new() { DaySwingKelvins = 10, Scale = TemperatureScale.Fahrenheit });
        Assert.Equal("It comes up better when days are warmer than nights (59 to 77 °F in the laboratory), and they are, by 18 °F.",
            states[0].Words);
        Assert.Contains("at 32 to 50 °F", NeedState.Of(Some.Crop("lavender"), new() { Scale = TemperatureScale.Fahrenheit })[0].Words,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Nights_light_and_ripening_are_states_too()
    {
        var celery = Some.Crop("celery");
        Assert.Equal([NeedKind.AlternatingTemperature, NeedKind.Light], celery.Needs.Select(need => need.Kind).Order());
        Assert.Equal([NeedStatus.Unmet, NeedStatus.Unmet], Of(celery, new() { DaySwingKelvins = 1, Light = LightLevel.Dark }));
        Assert.Equal([NeedStatus.Met, NeedStatus.Met], Of(celery, new() { DaySwingKelvins = 8, Light = LightLevel.Bright }));

        // Daily alternating temperatures replace the light that celery needs (E. Pressman and others, 1977); of lettuce nobody says so.
        Assert.Equal([NeedStatus.Met, NeedStatus.Met], Of(celery, new() { DaySwingKelvins = 8, Light = LightLevel.Dark }));
        Assert.False(NeedState.NightsReplaceLight(Some.Crop("petunia"), 8));
        Assert.Equal([NeedStatus.UnderWay], Of(Some.Crop("sunflower"), new() { DaysSinceHarvest = 10 }));
        Assert.Equal([NeedStatus.Met], Of(Some.Crop("sunflower"), new() { DaysSinceHarvest = 100 }));

        static NeedStatus[] Of(Crop crop, NeedFacts facts) => [.. NeedState.Of(crop, facts).Select(state => state.Status)];
    }

    [Fact]
    public void A_reminder_puts_it_into_the_cold_and_takes_it_out_again()
    {
        var batch = Some.Batch() with { Crop = new("lavender") };
        var cold = Assert.Single(Of(new(Lavender, 30, true)), one => one.Kind == ReminderKind.EndChill);
        Assert.Equal(new LocalDate(2026, 3, 31).PlusDays(12), cold.From);
        Assert.Single(Of(new(Lavender, 0, false)), one => one.Kind == ReminderKind.Chill);
        Assert.DoesNotContain(Of(new(Lavender, 42, false)), one => one.Kind is ReminderKind.Chill or ReminderKind.EndChill);

        IReadOnlyList<Reminder> Of(ChillState chill) => Reminders.For(new(batch, Some.Crop("lavender"), new(null, null, null),
            LightLevel.Dark, null, new(2026, 3, 31), DateTimeZone.Utc) { Chill = chill });
    }

    [Fact]
    public void Want_of_a_chill_is_named_and_the_cold_of_one_is_no_fault()
    {
        var silent = new BatchCase
        {
            Crop = Some.Crop("lavender"),
            Phase = BatchPhase.Waiting,
            Count = new(0, 16),
            Lot = new(18, 4),
            Hours = new(200, 0, 200, 0),
            Ahead = new(1, 0, 1),
            IsSlow = true,
            ForecastDays = (14, 30),
            SeenDays = (8, null),
        };
        Assert.Equal(CauseKind.NotYet, BatchDiagnosis.Of(silent with { Chill = new(Lavender, 8, true) }).Cause.Kind);
        var warm = BatchDiagnosis.Of(silent with { Chill = new(Lavender, 0, false), Hours = new(0, 0, 200, 0), Ahead = new(0, 0, 1) });
        Assert.Equal(CauseKind.NotChilled, warm.Cause.Kind);
        Assert.StartsWith("Lavender wants 42 days of moist chill first and has had 0: 0 of 16 up so far", warm.Sentence,
            StringComparison.Ordinal);
        Assert.Contains("refrigerator", warm.Advice, StringComparison.Ordinal);
    }

    private static Interval Days(double to) => new(Some.Day(0), Some.Day(to));
}
