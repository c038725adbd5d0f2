using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Tests.Climate;

/// <summary>What is believed of a sensor, and what is not. The bounds of what is believed are the program's own, no source.</summary>
public sealed class ReadingScreenTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 10, 0);

    /// <summary>Sources of the codes stand beside them in <see cref="SentinelValues"/>.</summary>
    [Theory]
    [InlineData("Cel", 85)]
    [InlineData("[degF]", 185)]
    [InlineData("K", 358.15)]
    [InlineData("Cel", -127)]
    [InlineData("[degF]", -196.6)]
    [InlineData("Cel", 127.94)]
    [InlineData("Cel", 127.9375)]
    [InlineData("Cel", -100)]
    [InlineData("Cel", -46.85)]
    [InlineData("Cel", -45)]
    [InlineData("Cel", 128.87)]
    [InlineData("Cel", 130)]
    [InlineData("Cel", 3276.7)]
    [InlineData("Cel", -9999)]
    public void A_code_for_no_temperature_is_a_code_in_every_unit(string unit, double number) =>
        Assert.Equal(RefusalReason.Sentinel, Temperature(number, unit));

    [Theory]
    [InlineData(0, RefusalReason.Sentinel)]
    [InlineData(119, RefusalReason.Sentinel)]
    [InlineData(118.99, RefusalReason.Sentinel)]
    [InlineData(-6, RefusalReason.Sentinel)]
    [InlineData(-0.1, RefusalReason.Impossible)]
    [InlineData(103.1, RefusalReason.Impossible)]
    [InlineData(0.55, RefusalReason.OtherUnit)]
    [InlineData(1, RefusalReason.OtherUnit)]
    [InlineData(1.1, null)]
    [InlineData(55, null)]
    [InlineData(100, null)]
    [InlineData(102.5, null)]
    [InlineData(double.NaN, RefusalReason.Missing)]
    [InlineData(double.PositiveInfinity, RefusalReason.Impossible)]
    public void Humidity_in_percent(double number, RefusalReason? reason) => Assert.Equal(reason, Judge(number, "%", Quantity.Humidity));

    [Theory]
    [InlineData(0.55, null)]
    [InlineData(1, null)]
    [InlineData(1.02, null)]
    [InlineData(55, RefusalReason.OtherUnit)]
    [InlineData(-0.2, RefusalReason.Impossible)]
    public void Humidity_as_a_ratio(double number, RefusalReason? reason) => Assert.Equal(reason, Judge(number, "1", Quantity.Humidity));

    [Theory]
    [InlineData(0, null)]
    [InlineData(1, null)]
    [InlineData(100, null)]
    [InlineData(255, RefusalReason.Sentinel)]
    [InlineData(101, RefusalReason.Impossible)]
    [InlineData(-1, RefusalReason.Impossible)]
    public void Battery_in_percent(double number, RefusalReason? reason) => Assert.Equal(reason, Judge(number, "%", Quantity.Battery));

    [Theory]
    [InlineData(0, null)]
    [InlineData(65_535, null)]
    [InlineData(-9999, RefusalReason.Sentinel)]
    [InlineData(1e7, RefusalReason.Impossible)]
    public void Moisture_in_a_raw_scale(double number, RefusalReason? reason) =>
        Assert.Equal(reason, Judge(number, "{counts}", Quantity.Moisture));

    [Theory]
    [InlineData(-40.1)]
    [InlineData(125.5)]
    [InlineData(1_000_000)]
    [InlineData(1e300)]
    public void No_place_in_or_near_a_home_has_such_a_temperature(double celsius) =>
        Assert.Equal(RefusalReason.Impossible, Temperature(celsius, "Cel"));

    [Theory]
    [InlineData(84.9)]
    [InlineData(84.99)]
    [InlineData(110)]
    [InlineData(51)]
    [InlineData(58.5)]
    public void A_hot_place_is_believed_at_the_first_reading(double celsius) =>
        Assert.Null(ReadingScreen.Judge(celsius, DeclaredUnit.Celsius, Last(45), Now));

    /// <summary>Without a history, 15 to 40 °C read in °F is doubted in °C; what no home has in °F is believed.</summary>
    [Theory]
    [InlineData(58.9, null)]
    [InlineData(59, RefusalReason.OtherUnit)]
    [InlineData(72, RefusalReason.OtherUnit)]
    [InlineData(95, RefusalReason.OtherUnit)]
    [InlineData(104, RefusalReason.OtherUnit)]
    [InlineData(104.1, null)]
    [InlineData(40, null)]
    [InlineData(32, null)]
    public void An_unknown_probe_is_doubted_where_Fahrenheit_is_likelier(double number, RefusalReason? reason) =>
        Assert.Equal(reason, Temperature(number, "Cel"));

    [Theory]
    [InlineData(14.9, null)]
    [InlineData(15, RefusalReason.OtherUnit)]
    [InlineData(22, RefusalReason.OtherUnit)]
    [InlineData(31, RefusalReason.OtherUnit)]
    [InlineData(32, null)]
    [InlineData(40, null)]
    [InlineData(72, null)]
    [InlineData(0, null)]
    public void In_Fahrenheit_an_unknown_probe_is_doubted_where_Celsius_is_likelier(double number, RefusalReason? reason) =>
        Assert.Equal(reason, Temperature(number, "[degF]"));

    /// <summary>A step by 1.8 and 32 is a change of unit (trade knowledge; common practice, no source); another step is a hot
    /// place.</summary>
    [Theory]
    [InlineData(22, 71.6, RefusalReason.OtherUnit)]
    [InlineData(22, 75, RefusalReason.OtherUnit)]
    [InlineData(22, 60, null)]
    [InlineData(22, 90, null)]
    [InlineData(48, 66, null)]
    [InlineData(64, 72, null)]
    [InlineData(5, 41, RefusalReason.OtherUnit)]
    [InlineData(5, 22, null)]
    [InlineData(22, 45, null)]
    public void A_probe_with_a_history_is_doubted_only_at_a_change_of_unit(double last, double number, RefusalReason? reason) =>
        Assert.Equal(reason, ReadingScreen.Judge(number, DeclaredUnit.Celsius, Last(last), Now));

    [Theory]
    [InlineData(22, 22, RefusalReason.OtherUnit)]
    [InlineData(0, 28, null)]
    [InlineData(-5, 23, null)]
    [InlineData(22, 70, null)]
    public void In_Fahrenheit_too(double lastCelsius, double fahrenheit, RefusalReason? reason) =>
        Assert.Equal(reason, ReadingScreen.Judge(fahrenheit, DeclaredUnit.Fahrenheit, Last(lastCelsius), Now));

    [Fact]
    public void A_last_reading_of_yesterday_tells_nothing_of_the_unit()
    {
        var yesterday = new TemperatureSample(Now - Duration.FromHours(24), Core.Climate.Temperature.FromCelsius(64));

        Assert.Equal(RefusalReason.OtherUnit, ReadingScreen.Judge(72, DeclaredUnit.Celsius, yesterday, Now));
    }

    [Theory]
    [InlineData(22, RefusalReason.OtherUnit)]
    [InlineData(72, RefusalReason.OtherUnit)]
    [InlineData(295.15, null)]
    public void Kelvins_are_never_as_small_as_the_other_units(double number, RefusalReason? reason) =>
        Assert.Equal(reason, Temperature(number, "K"));

    [Fact]
    public void A_confirmed_unit_is_not_doubted_and_a_code_stays_a_code()
    {
        Assert.Null(ReadingScreen.Judge(72, DeclaredUnit.Celsius, Last(22), Now, unitConfirmed: true));
        Assert.Equal(RefusalReason.Sentinel, ReadingScreen.Judge(85, DeclaredUnit.Celsius, null, Now, unitConfirmed: true));
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(-40, 100)]
    public void A_pair_that_means_no_answer_takes_both_values_out_and_leaves_the_rest(double celsius, double percent)
    {
        var raw = default(RawReading);
        raw.Set(celsius, DeclaredUnit.Celsius);
        raw.Set(percent, DeclaredUnit.HumidityPercent);
        raw.Set(80, DeclaredUnit.BatteryPercent);
        var refusals = new List<Refusal>();

        var reading = raw.Screen(Origin(), refusals);

        Assert.Equal((null, null, 80.0), (reading.Temperature, reading.Humidity, reading.Battery));
        Assert.Equal([("temperature", RefusalReason.Sentinel), ("humidity", RefusalReason.Sentinel)],
            refusals.Select(refusal => (refusal.Quantity, refusal.Reason)));
    }

    [Theory]
    [InlineData(0, 55)]
    [InlineData(-40, 80)]
    public void Half_of_such_a_pair_is_a_reading(double celsius, double percent)
    {
        var raw = default(RawReading);
        raw.Set(celsius, DeclaredUnit.Celsius);
        raw.Set(percent, DeclaredUnit.HumidityPercent);
        var refusals = new List<Refusal>();

        Assert.Equal(celsius, raw.Screen(Origin(), refusals).Temperature!.Value.Celsius);
        Assert.Empty(refusals);
    }

    [Fact]
    public void A_wet_chip_that_says_a_little_over_100_means_saturated()
    {
        var raw = default(RawReading);
        raw.Set(102, DeclaredUnit.HumidityPercent);

        Assert.Equal(100, raw.Screen(Origin(), []).Humidity!.Value.Percent);
    }

    [Fact]
    public void A_refusal_keeps_the_value_as_it_came_and_says_what_to_do()
    {
        var raw = default(RawReading);
        raw.Set(72, DeclaredUnit.Celsius);
        var refusals = new List<Refusal>();
        raw.Screen(Origin(), refusals);

        var refusal = Assert.Single(refusals);
        Assert.Equal("72 °C", refusal.Raw);
        Assert.Equal("log.csv:118", refusal.Source);
        Assert.Equal(
            "Declared Cel, but 72 looks like °F: declare [degF], or, if a trusted thermometer beside it agrees with 72 °C, confirm the "
                + "unit of this mapping.",
            refusal.Fix);
    }

    [Fact]
    public void Every_reason_has_a_fix() =>
        Assert.All(Enum.GetValues<RefusalReason>(), reason => Assert.EndsWith(".", Fixes.For(reason), StringComparison.Ordinal));

    private static ReadingOrigin Origin() => new(new("shelf"), Now, Now, ClockSource.Payload, "log.csv:118");

    private static TemperatureSample Last(double celsius) =>
        new(Now - Duration.FromMinutes(10), Core.Climate.Temperature.FromCelsius(celsius));

    private static RefusalReason? Temperature(double number, string unit) => Judge(number, unit, Quantity.Temperature);

    private static RefusalReason? Judge(double number, string code, Quantity quantity)
    {
        Assert.True(DeclaredUnit.TryParse(code, quantity, out var unit));
        return ReadingScreen.Judge(number, unit, null, Now);
    }
}
