using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Plans;

/// <summary>Which mistake a warning is about.</summary>
public enum MistakeKind
{
    TooEarly,
    TooLate,
    Over,
    TwoLotsInOneTray,
    LightSeedInTheDark,
    ColdShyTogetherWithHeatShy,
    TreatedOnTowel,
    PoorOnTowel,
    DislikesMoving,
}

/// <summary>A common mistake about to be made, said before it costs anything.</summary>
/// <param name="Kind">Which.</param>
/// <param name="Words">What is wrong and what to do instead.</param>
public sealed record Mistake(MistakeKind Kind, string Words);

/// <summary>What is about to be sown.</summary>
/// <param name="Crop">The crop.</param>
/// <param name="Method">How.</param>
/// <param name="On">The day.</param>
/// <param name="Dates">When it should be, where that is known.</param>
/// <param name="Spot">Where it goes.</param>
/// <param name="Lots">The lots in the same tray or towel; usually one.</param>
/// <param name="Beside">Crops that stand in the same closed box, or share the spot.</param>
public sealed record Intent(
    Crop Crop,
    SowingMethod Method,
    LocalDate On,
    SowingDates? Dates,
    Spot? Spot,
    IReadOnlyList<Lot> Lots,
    IReadOnlyList<Crop> Beside)
{
    /// <summary>How temperatures are put.</summary>
    public TemperatureScale Scale { get; init; }
}

/// <summary>The ordinary mistakes of starting seed, each with its reason.</summary>
public static class CommonMistakes
{
    /// <summary>Everything that is about to go wrong; empty when nothing is.</summary>
    public static IEnumerable<Mistake> Of(Intent intent)
    {
        ArgumentNullException.ThrowIfNull(intent);
        return OfDates(intent).Concat(OfSpot(intent)).Concat(OfSeed(intent)).Concat(OfTowel(intent));
    }

    /// <summary>The season of a crop is over when somebody asks for its days.</summary>
    public static Mistake Over(Crop crop)
    {
        ArgumentNullException.ThrowIfNull(crop);
        return new(MistakeKind.Over, $"The days of {crop.CommonName} are over: give the last frost of the coming spring.");
    }

    private static IEnumerable<Mistake> OfDates(Intent intent)
    {
        // "Most people make the common mistake of planting vegetable seeds indoors too early": S. Feather, Penn State Extension, 2008.
        if (intent.Dates is { } dates && intent.On < dates.StartOn)
        {
            yield return new(MistakeKind.TooEarly, $"{Period.DaysBetween(intent.On, dates.StartOn)} days too early for "
                + $"{intent.Crop.CommonName}: it would wait indoors, tall and root-bound. Sow from {Day(dates.StartOn)}.");
        }

        if (intent.Dates is { } late && intent.On > late.SowBy)
        {
            yield return new(MistakeKind.TooLate, $"{Period.DaysBetween(late.SowBy, intent.On)} days past the sow-by day of "
                + $"{intent.Crop.CommonName} ({Day(late.SowBy)}): choose a warmer spot, a faster kind, or buy plants.");
        }
    }

    private static IEnumerable<Mistake> OfSpot(Intent intent)
    {
        if (intent.Spot is { Light: LightLevel.Dark } spot && intent.Crop.Light == LightNeed.NeedsLight)
        {
            yield return new(MistakeKind.LightSeedInTheDark,
                $"{intent.Crop.CommonName} needs light to come up and {spot.Id} is dark: press it onto the mix, uncovered, on "
                + $"a bright spot.");
        }

        foreach (var other in intent.Beside.Where(other => other.Id != intent.Crop.Id))
        {
            var (shy, loving) = intent.Crop.HotLimit < other.HotLimit ? (intent.Crop, other) : (other, intent.Crop);
            if (shy.IdealBand.High < loving.IdealBand.Low)
            {
                yield return new(MistakeKind.ColdShyTogetherWithHeatShy,
                    $"{shy.CommonName} and {loving.CommonName} do not go together: {loving.CommonName} is best from "
                    + $"{intent.Scale.Show(loving.IdealBand.Low)}, {shy.CommonName} only up to {intent.Scale.Show(shy.IdealBand.High)}.");
            }
        }
    }

    private static IEnumerable<Mistake> OfSeed(Intent intent)
    {
        if (intent.Lots.Count > 1)
        {
            yield return new(MistakeKind.TwoLotsInOneTray, $"{string.Join(" and ", intent.Lots.Select(lot => lot.Id.Text))} in one tray: "
                + $"afterwards nobody can tell which lot came up. Give each its own tray, or a row with a label.");
        }

        if (intent.Crop.Guide is { } moved && (moved.Transplants.StartsWith("poor", StringComparison.Ordinal) || moved.Transplants == "no"))
        {
            yield return new(MistakeKind.DislikesMoving,
                $"{intent.Crop.CommonName} dislikes being moved: sow it in its own pot or straight into the garden.");
        }
    }

    private static IEnumerable<Mistake> OfTowel(Intent intent)
    {
        if (intent.Method == SowingMethod.DampTowel && intent.Lots.Any(lot => lot.Treated))
        {
            yield return new(MistakeKind.TreatedOnTowel, SowingAdvice.TreatedOnTowel);
        }

        if (intent.Method == SowingMethod.DampTowel && intent.Crop.Guide is { Towel: TowelSuitability.Poor or TowelSuitability.No } guide)
        {
            yield return new(MistakeKind.PoorOnTowel,
                $"{intent.Crop.CommonName} does badly on a towel ({guide.TowelNote}): sow it in mix.");
        }
    }

    private static string Day(LocalDate day) => day.ToString("d MMM", System.Globalization.CultureInfo.InvariantCulture);
}
