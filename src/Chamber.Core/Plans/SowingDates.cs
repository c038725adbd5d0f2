using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Plans;

/// <summary>Days until a batch is up on the chosen spot: 80 % interval.</summary>
public readonly record struct DaysUp(double Low, double Mid, double High);

/// <summary>When to sow, counted back from planting out.</summary>
/// <param name="StartOn">Earlier than this makes old, root-bound plants.</param>
/// <param name="Aim">The middle of it.</param>
/// <param name="SowBy">Later than this comes too late for the latest planting out.</param>
/// <param name="UpFrom">First sight of those sown on the aimed day, early.</param>
/// <param name="UpTo">The same, late.</param>
/// <param name="HardenFrom">First day of the hardening ladder.</param>
/// <param name="PlantOutFrom">Earliest planting out.</param>
/// <param name="PlantOutTo">Latest.</param>
/// <param name="FrostChance">The chance of a frost after the earliest planting out.</param>
public sealed record SowingDates(
    LocalDate StartOn,
    LocalDate Aim,
    LocalDate SowBy,
    LocalDate UpFrom,
    LocalDate UpTo,
    LocalDate HardenFrom,
    LocalDate PlantOutFrom,
    LocalDate PlantOutTo,
    double FrostChance)
{
    /// <summary>
    /// Sow date = planting out - weeks of growing - days to come up there. Weeks and offsets are the crop's, days are the spot's.
    /// </summary>
    /// <returns>The dates, or null where the catalog has no weeks for the crop.</returns>
    public static SowingDates? For(CropGuide guide, LastFrost frost, DaysUp up)
    {
        ArgumentNullException.ThrowIfNull(guide);
        ArgumentNullException.ThrowIfNull(frost);
        if (guide is not { WeeksToPlantOut: { } weeks, PlantOutWeeksAfterFrost: { } offset })
        {
            return null;
        }

        var from = frost.Median.PlusWeeks(offset.Low);
        var to = frost.Median.PlusWeeks(offset.High);
        var startOn = from.PlusDays(-7 * weeks.High - Whole(up.Mid));
        var sowBy = to.PlusDays(-7 * weeks.Low - Whole(up.High));
        if (sowBy < startOn)
        {
            // A slow spot can close the window: then there is one day, the one that serves the latest planting out.
            startOn = sowBy;
        }

        var aim = startOn.PlusDays(Period.DaysBetween(startOn, sowBy) / 2);
        return new(
            startOn,
            aim,
            sowBy,
            aim.PlusDays((int)Math.Floor(up.Low)),
            aim.PlusDays(Whole(up.High)),
            from.PlusDays(-HardeningLadder.Days),
            from,
            to,
            frost.ChanceAfter(from));
    }

    private static int Whole(double days) => (int)Math.Ceiling(days - 1e-9);
}
