using Chamber.Core.Climate;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Plans;

/// <summary>A day of hardening off.</summary>
/// <param name="On">The day.</param>
/// <param name="Hours">Hours outdoors; 24 stays out overnight.</param>
/// <param name="What">What to do, a sentence.</param>
public sealed record LadderStep(LocalDate On, int Hours, string What);

/// <summary>
/// Ten days from shade for an hour to a night out. Length: 7 to 14 days, T. Smith and L. Pundt, "Acclimating Vegetable Transplants",
/// New England Greenhouse Update, 28 April 2016. Hours and night limits are common practice, no source.
/// </summary>
public static class HardeningLadder
{
    /// <summary>Days before planting out.</summary>
    public const int Days = 10;

    private const int FirstNight = 7;

    /// <summary>Nights warm enough to stay out: tender plants 10 °C, hardy ones 4 °C.</summary>
    public static Temperature NightLimit(CropGuide? guide) =>
        Temperature.FromCelsius(IsTender(guide) ? 10 : 4);

    /// <summary>Whether the crop goes out only after the last frost.</summary>
    public static bool IsTender(CropGuide? guide) => guide?.PlantOutWeeksAfterFrost is not { Low: < 0 };

    /// <summary>The steps, first day first.</summary>
    public static IReadOnlyList<LadderStep> For(CropGuide? guide, LocalDate firstDay, TemperatureScale scale = default)
    {
        var night = NightLimit(guide);
        return [.. Enumerable.Range(0, Days).Select(day => Step(day + 1, firstDay.PlusDays(day), scale.Show(night)))];
    }

    private static LadderStep Step(int day, LocalDate on, string night)
    {
        if (day >= FirstNight)
        {
            return new(on, 24, $"Out all day; leave out overnight if it stays above {night}, otherwise bring in.");
        }

        var hours = 2 * day - (day == 1 ? 1 : 0);
        var light = day switch
        {
            <= 2 => "in shade, out of the wind",
            <= 4 => "with an hour or two of sun",
            _ => "in sun, with a little wind",
        };
        return new(on, hours, $"{hours} {(hours == 1 ? "hour" : "hours")} out {light}; back in before evening.");
    }
}
