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
    /// <summary>When a crop that is sown where it will grow may go into the ground.</summary>
    /// <returns>The first and the last day, or null for a crop that is started indoors, or of which the catalog has no weeks.</returns>
    public static (LocalDate From, LocalDate To)? InPlace(CropGuide guide, LastFrost frost)
    {
        ArgumentNullException.ThrowIfNull(guide);
        ArgumentNullException.ThrowIfNull(frost);
        return guide is { IsSownInPlace: true, PlantOutWeeksAfterFrost: { } offset }
            ? (frost.Median.PlusWeeks(offset.Low), frost.Median.PlusWeeks(offset.High))
            : null;
    }

    /// <summary>
    /// Sow date = planting out - weeks of growing - days to come up there. Weeks and offsets are the crop's, days are the spot's.
    /// </summary>
    /// <remarks>Nothing is hardened off before it is up, or planted out before it has grown for its weeks and was hardened off: a slow spot
    /// moves both.</remarks>
    /// <returns>The dates, or null where the catalog has no weeks for the crop, and for one that is sown in its place.</returns>
    public static SowingDates? For(CropGuide guide, LastFrost frost, DaysUp up)
    {
        ArgumentNullException.ThrowIfNull(guide);
        ArgumentNullException.ThrowIfNull(frost);
        if (guide.IsSownInPlace || guide is not { WeeksToPlantOut: { } weeks, PlantOutWeeksAfterFrost: { } offset })
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
        var upTo = aim.PlusDays(Whole(up.High));
        var grown = LocalDate.Max(from, aim.PlusDays(Whole(up.Mid) + 7 * weeks.Low));
        var hardenFrom = LocalDate.Max(grown.PlusDays(-HardeningLadder.Days), upTo);
        var plantOut = LocalDate.Max(grown, hardenFrom.PlusDays(HardeningLadder.Days));
        return new(
            startOn,
            aim,
            sowBy,
            aim.PlusDays((int)Math.Floor(up.Low)),
            upTo,
            hardenFrom,
            plantOut,
            LocalDate.Max(to, plantOut),
            frost.ChanceAfter(plantOut));
    }

    private static int Whole(double days) => (int)Math.Ceiling(days - 1e-9);
}
