using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Testing;
using FsCheck.Xunit;
using NodaTime;

namespace Chamber.Core.Tests.Climate;

public class OffsetCalibrationTests
{
    private static readonly Instant Evening = Instant.FromUtc(2027, 2, 1, 20, 0);

    // Hourly differences without correlation: the interval is that of Student's t. R 4.5: t.test(x)$conf.int.
    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public async Task The_interval_of_uncorrelated_hours_is_that_of_R()
    {
        double[] differences = [0.7, 0.4, 0.7, 0.5, 0.6, 0.4, 0.8, 0.5];
        var found = OffsetCalibration.SideBySide(Hours([.. differences.Select(value => 20 + value)]),
            Hours([.. differences.Select(_ => 20.0)])).Found!;

        var answer =
            await Oracle.R($"x <- c({string.Join(", ", differences.Select(value => value.ToString(CultureInfo.InvariantCulture)))}); "
            + $"cat(mean(x), diff(t.test(x)$conf.int) / 2, acf(x, plot = FALSE)$acf[2])");
        var numbers = Array.ConvertAll(answer.Split(' '), text => double.Parse(text, CultureInfo.InvariantCulture));
        Assert.True(numbers[2] < 0, "These differences are to have no positive correlation.");
        Assert.Equal(-numbers[0], found.Offset.Kelvins, 5);
        Assert.Equal(numbers[1], found.Uncertainty.Kelvins, 5);
    }

    // The same mean and deviation, but in two runs: hours that go together tell less.
    [Fact]
    public void Hours_that_hang_together_are_known_less_well()
    {
        double[] mixed = [0.1, 0.3, 0.1, 0.3, 0.1, 0.3, 0.1, 0.3];
        double[] runs = [0.1, 0.1, 0.3, 0.3, 0.3, 0.3, 0.1, 0.1];
        Assert.True(Uncertainty(runs) > 1.3 * Uncertainty(mixed), $"{Uncertainty(runs)} against {Uncertainty(mixed)}");
    }

    [Property]
    public void What_is_added_to_a_probe_is_taken_off_by_its_offset(byte[] noise, sbyte tenths)
    {
        var (probe, trusted) = Night(noise);
        var shift = tenths / 50.0;
        var plain = OffsetCalibration.SideBySide(Hours(probe), Hours(trusted)).Found!;
        var shifted = OffsetCalibration.SideBySide(Hours([.. probe.Select(celsius => celsius + shift)]), Hours(trusted)).Found!;
        Assert.Equal(plain.Offset.Kelvins - shift, shifted.Offset.Kelvins, 1e-9);
        Assert.Equal(plain.Uncertainty.Kelvins, shifted.Uncertainty.Kelvins, 1e-9);
    }

    [Property]
    public void Probe_and_trusted_in_each_others_place_have_the_opposite_offset(byte[] noise)
    {
        var (probe, trusted) = Night(noise);
        Assert.Equal(-OffsetCalibration.SideBySide(Hours(trusted), Hours(probe)).Found!.Offset.Kelvins,
            OffsetCalibration.SideBySide(Hours(probe), Hours(trusted)).Found!.Offset.Kelvins, 1e-9);
    }

    [Property]
    public void The_order_of_the_hours_does_not_matter(byte[] noise)
    {
        var (probe, trusted) = Night(noise);
        Assert.Equal(OffsetCalibration.SideBySide(Hours(probe), Hours(trusted)),
            OffsetCalibration.SideBySide([.. Hours(probe).Reverse()], [.. Hours(trusted).Reverse()]));
    }

    [Property]
    public void The_corrected_probe_needs_no_further_offset(byte[] noise)
    {
        var (probe, trusted) = Night(noise);
        var found = OffsetCalibration.SideBySide(Hours(probe), Hours(trusted)).Found!;
        var corrected = probe.Select(celsius => celsius + found.Offset.Kelvins).ToArray();
        Assert.Equal(0, OffsetCalibration.SideBySide(Hours(corrected), Hours(trusted)).Found!.Offset.Kelvins, 1e-9);
    }

    [Fact]
    public void Too_few_hours_say_nothing() => Assert.Equal(
        "Only 5 whole hours were measured by both; leave them side by side for a night, at least 6 hours.",
        OffsetCalibration.SideBySide(Hours(20, 20, 20, 20, 20), Hours(20, 20, 20, 20, 20, 20, 20)).Refusal);

    [Fact]
    public void Hours_of_which_little_was_measured_do_not_count() => Assert.Null(
        OffsetCalibration.SideBySide([.. Hours(20, 20, 20, 20, 20, 20, 20).Select(hour => hour with { MeasuredHours = 0.5 })],
            Hours(20, 20, 20, 20, 20, 20, 20)).Found);

    [Fact]
    public void A_difference_that_moves_is_no_offset() => Assert.Contains(
        "moved by 0.8 K",
        OffsetCalibration.SideBySide(Hours(20, 20.2, 20.4, 20.6, 20.8, 21, 21.2, 21.4), Hours(20, 20, 20, 20, 20, 20, 20, 20)).Refusal,
        StringComparison.Ordinal);

    [Fact]
    public void Probes_far_apart_were_not_side_by_side() =>
        Assert.Contains("6.0 K apart", OffsetCalibration.SideBySide(Hours(26, 26, 26, 26, 26, 26), Hours(20, 20, 20, 20, 20, 20)).Refusal,
        StringComparison.Ordinal);

    [Fact]
    public void Ice_water_is_at_zero()
    {
        var found = OffsetCalibration.IceWater(Minutes(0.4, 0.5, 0.4, 0.5, 0.4, 0.5)).Found!;
        Assert.Equal(-0.45, found.Offset.Kelvins, 9);
        Assert.InRange(found.Uncertainty.Kelvins, 0.1, 0.2);
    }

    [Theory]
    [InlineData(new[] { 0.4, 0.4, 0.4 }, "There are 3 readings")]
    [InlineData(new[] { 20.0, 20, 20, 20, 20, 20 }, "not ice water")]
    [InlineData(new[] { 4.0, 2, 1, 0.5, 0.4, 0.4 }, "still moved by 3.6 K")]
    public void Water_that_is_not_ice_water_is_refused(double[] celsius, string why) =>
        Assert.Contains(why, OffsetCalibration.IceWater(Minutes(celsius)).Refusal, StringComparison.Ordinal);

    private static double Uncertainty(double[] differences) =>
        OffsetCalibration.SideBySide(Hours([.. differences.Select(value => 20 + value)]),
            Hours([.. differences.Select(_ => 20.0)])).Found!.Uncertainty.Kelvins;

    private static IReadOnlyList<HourlyMean> Hours(params double[] celsius) =>
    [
        .. celsius.Select((value, i) => (Value: value, At: Evening + Duration.FromHours(i))).Select(hour =>
            new HourlyMean(hour.At.InUtc().Date, hour.At.InUtc().Hour, hour.At, Temperature.FromCelsius(hour.Value), 1)),
    ];

    private static TemperatureSample[] Minutes(params double[] celsius) =>
        [.. celsius.Select((value, i) => new TemperatureSample(Evening + Duration.FromMinutes(3 * i), Temperature.FromCelsius(value)))];

    /// <summary>A night of 6 to 14 hours in a cooling room with two probes, whose difference varies by a tenth or two.</summary>
    /// <summary>A night even enough for an offset, whatever the noise: with 0.026 K of it the interval cannot pass the bound of 0.5
    /// K.</summary>
    private static (double[] Probe, double[] Trusted) Night(byte[] noise)
    {
        var hours = Math.Clamp(noise.Length, OffsetCalibration.HoursMin, 14);
        var trusted = Enumerable.Range(0, hours).Select(i => 21 - 0.2 * i).ToArray();
        return ([.. trusted.Select((celsius, i) => celsius + (i < noise.Length ? noise[i] : 128) / 10_000.0)], trusted);
    }
}
