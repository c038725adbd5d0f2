using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using NodaTime;

namespace Chamber.Core.Tests.Crops;

/// <summary>
/// The worked example of J.L. Brewster, Onions and Other Vegetable Alliums (CABI), Fig. 4.7 and Eqns 4.6-4.7, data of Harrington (1962):
/// onion germinates to 50 % on moist paper in 80 degree-days over 2.5 °C.
/// </summary>
public sealed class PublishedThermalTimeTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 3, 1, 0, 0);

    private static readonly WarmthLimits Onion = new(
        new(Temperature.FromCelsius(2.5), Temperature.FromCelsius(25), Temperature.FromCelsius(28), Temperature.FromCelsius(35)),
        Temperature.FromCelsius(10),
        Temperature.FromCelsius(30));

    [Fact]
    public void Onion_is_half_germinated_after_4_days_at_22_5() => Assert.Equal(80, DaysAt((4, 22.5)), 9);

    [Fact]
    public void Onion_is_half_germinated_after_16_days_at_7_5() => Assert.Equal(80, DaysAt((16, 7.5)), 9);

    [Fact]
    public void Heat_units_add_up_over_2_days_at_22_5_and_8_days_at_7_5() => Assert.Equal(80, DaysAt((2, 22.5), (8, 7.5)), 9);

    private static double DaysAt(params (int Days, double Celsius)[] stretches)
    {
        var tally = new WarmthTally(Onion, Duration.FromHours(2));
        var at = Start;
        foreach (var (days, celsius) in stretches)
        {
            for (var hour = 0; hour <= days * 24; hour++)
            {
                tally.Add(at + Duration.FromHours(hour), Temperature.FromCelsius(celsius));
            }

            // The change of place takes no time.
            at += Duration.FromDays(days);
        }

        return tally.Measured.CelsiusDays;
    }
}
