using Chamber.Core.Climate;
using Chamber.Core.Climate.Moisture;
using FsCheck.Xunit;
using NodaTime;

namespace Chamber.Core.Tests.Climate.Moisture;

public class SaltAndMoistureTests
{
    private static readonly Instant Noon = Instant.FromUtc(2027, 2, 1, 12, 0);

    // L. Greenspan, "Humidity Fixed Points of Binary Saturated Aqueous Solutions", J. Res. NBS 81A, 1977, table 2, sodium chloride
    // (values from memory); the formula of the CRC Handbook says of itself that it is good to 2 %.
    [Theory]
    [InlineData(10, 75.67)]
    [InlineData(15, 75.61)]
    [InlineData(20, 75.47)]
    [InlineData(25, 75.29)]
    [InlineData(30, 75.09)]
    [InlineData(40, 74.68)]
    public void Air_over_table_salt_is_as_published(double celsius, double percent) =>
        Assert.Equal(percent, SaltTest.OverTableSalt(Temperature.FromCelsius(celsius)).Percent, tolerance: 0.4);

    [Fact]
    public void A_sensor_that_says_seventy_nine_over_salt_reads_four_points_too_high()
    {
        var answer = SaltTest.Judge(Readings(79, 79.5, 79, 79.5, 79, 79.5), Temperature.FromCelsius(20));
        Assert.Equal(75.36 - 79.25, answer.Points!.Value, tolerance: 0.01);
        Assert.InRange(answer.Uncertainty, 2, 2.1);
    }

    [Theory]
    [InlineData(new[] { 79.0, 79 }, 20, "There are 2 readings")]
    [InlineData(new[] { 60.0, 65, 70, 74, 75, 75 }, 20, "still moved by 15.0 points")]
    [InlineData(new[] { 99.0, 99, 99, 99, 99, 99 }, 20, "24 points off")]
    [InlineData(new[] { 75.0, 75, 75, 75, 75, 75 }, 5, "10 to 40 °C")]
    public void A_jar_that_has_not_settled_or_is_not_tight_is_refused(double[] percent, double celsius, string why) =>
        Assert.Contains(why, SaltTest.Judge(Readings(percent), Temperature.FromCelsius(celsius)).Refusal, StringComparison.Ordinal);

    [Fact]
    public void A_moisture_point_is_a_median_so_one_wild_value_does_not_move_it()
    {
        Assert.Equal(512, MoistureCalibration.Point([510, 512, 900, 513, 511]).Raw);
        Assert.Contains("There are 2 readings", MoistureCalibration.Point([510, 512]).Refusal, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(800, 300, 10, true)]
    [InlineData(300, 800, 10, true)]
    [InlineData(300, 340, 10, false)]
    [InlineData(300, 300, 0, false)]
    public void Two_points_must_stand_apart(double dry, double saturated, double spread, bool good) =>
        Assert.Equal(good, MoistureCalibration.Fault(dry, saturated, spread) is null);

    // Two-point scale: whatever unit the probe counts in, and whichever way, the share is the same.
    [Property]
    public void Any_other_linear_unit_of_the_probe_gives_the_same_moisture(ushort raw, sbyte factor, short shift)
    {
        double Other(double value) => value * (factor == 0 ? 1 : factor) + shift;
        Assert.Equal(MediaMoisture.PercentOf(raw, 20_000, 50_000)!.Value,
            MediaMoisture.PercentOf(Other(raw), Other(20_000), Other(50_000))!.Value, 1e-9);
    }

    private static Reading[] Readings(params double[] percent) =>
        [.. percent.Select(
            (value, i) => new Reading(new("p"), Noon + Duration.FromMinutes(20 * i), Noon, Humidity: RelativeHumidity.FromPercent(value)))];
}
