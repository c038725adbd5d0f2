using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;

namespace Chamber.Core.Needs;

/// <summary>How it stands with a need.</summary>
public enum NeedStatus
{
    /// <summary>It is not met where the seed is.</summary>
    Unmet,

    /// <summary>It is being met, and takes some days more.</summary>
    UnderWay,

    /// <summary>It is met.</summary>
    Met,

    /// <summary>Too little is known to say.</summary>
    Unknown,
}

/// <summary>What is known of the seed and of where it is.</summary>
public sealed record NeedFacts
{
    /// <summary>How temperatures are put.</summary>
    public TemperatureScale Scale { get; init; }

    /// <summary>Its chill so far; null where nothing is known.</summary>
    public ChillState? Chill { get; init; }

    /// <summary>The warmest usual hour less the coolest, K; null where that was not measured.</summary>
    public double? DaySwingKelvins { get; init; }

    /// <summary>The light where it is; null where that is not known.</summary>
    public LightLevel? Light { get; init; }

    /// <summary>Days since the harvest; null for seed of which nobody knows.</summary>
    public double? DaysSinceHarvest { get; init; }
}

/// <summary>A need of a crop's seed and how it stands with it.</summary>
/// <param name="Need">The need.</param>
/// <param name="Status">How it stands.</param>
/// <param name="Words">The same in a sentence.</param>
public sealed record NeedState(CropNeed Need, NeedStatus Status, string Words)
{
    /// <summary>A day that is so many kelvins warmer than its night alternates. From memory: a few kelvins do for celery.</summary>
    public const double SwingKelvins = 5;

    /// <summary>Of no crop was a number found of how many come up without, so nothing is taken off and no date is moved.</summary>
    private const string NotCounted = "Dates do not count it: how many come up without is not known.";

    /// <summary>Every need of a crop, in the order of <see cref="NeedKind"/>.</summary>
    public static IReadOnlyList<NeedState> Of(Crop crop, NeedFacts facts)
    {
        ArgumentNullException.ThrowIfNull(crop);
        ArgumentNullException.ThrowIfNull(facts);
        return [.. crop.Needs.OrderBy(need => need.Kind).Select(need => need.Kind == NeedKind.Light
            && facts.Light == LightLevel.Dark && NightsReplaceLight(crop, facts.DaySwingKelvins)
                ? new(need, NeedStatus.Met, "It needs light to come up, or days warmer than nights in its place, and has those.")
                : Of(need, facts))];
    }

    /// <summary>Whether days are so much warmer than nights that the crop needs no light.</summary>
    /// <param name="crop">The crop.</param>
    /// <param name="daySwingKelvins">The warmest usual hour less the coolest, K; null where that was not measured.</param>
    public static bool NightsReplaceLight(Crop crop, double? daySwingKelvins)
    {
        ArgumentNullException.ThrowIfNull(crop);
        return daySwingKelvins >= SwingKelvins && crop.Needs.Any(need => need.ReplacesLight);
    }

    private static NeedState Of(CropNeed need, NeedFacts facts) => need.Kind switch
    {
        NeedKind.MoistChill => Chill(need, facts.Chill, facts.Scale),
        NeedKind.AlternatingTemperature => Swing(need, facts.DaySwingKelvins, facts.Scale),
        NeedKind.Light => facts.Light is not { } light ? new(need, NeedStatus.Unknown, "It needs light to come up: leave it uncovered.")
            : light == LightLevel.Dark ? new(need, NeedStatus.Unmet, $"It needs light to come up, and it is dark there. {NotCounted}")
            : new(need, NeedStatus.Met, "It needs light to come up, and has it."),
        NeedKind.Darkness => facts.Light == LightLevel.Dark
            ? new(need, NeedStatus.Met, "It wants dark to come up, and has it.")
            : new(need, NeedStatus.Unknown, "It wants dark to come up: cover it well."),
        _ => Ripening(need, facts.DaysSinceHarvest),
    };

    private static NeedState Chill(CropNeed need, ChillState? chill, TemperatureScale scale)
    {
        var range = need.Days is { } days && days.Low != days.High ? $"{days.Low} to {days.High}" : $"{need.EnoughDays}";
        var verb = need.IsNeeded ? "It needs" : "It comes up better after";
        if (chill is null)
        {
            return new(need, NeedStatus.Unknown, $"{verb} {range} days of moist chill at {Band(need, scale)}.");
        }

        var had = Days(chill.Days);
        return chill.IsEnough ? new(need, NeedStatus.Met, $"Its moist chill is done: {had} days.")
            : chill.IsNow ? new(need, NeedStatus.UnderWay,
                $"Moist chill: {had} of {need.EnoughDays} days so far, {Days(chill.DaysLeft)} to go.")
            : new(need, NeedStatus.Unmet, $"{verb} {range} days of moist chill at {Band(need, scale)}, and has had {had}."
                + (need.Without is null ? "" : $" As it is about {Percent(chill.Share)} of sound seed can come up."));
    }

    private static NeedState Swing(CropNeed need, double? swing, TemperatureScale scale)
    {
        var wants = $"It comes up better when days are warmer than nights ({Band(need, scale)} in the laboratory)";
        return swing is not { } known ? new(need, NeedStatus.Unknown, $"{wants}. {NotCounted}")
            : known >= SwingKelvins ? new(need, NeedStatus.Met, $"{wants}, and they are, by {Difference(known, scale)}.")
            : new(need, NeedStatus.Unmet, $"{wants}; there they differ by {Difference(known, scale)}. {NotCounted}");
    }

    private static NeedState Ripening(CropNeed need, double? since)
    {
        var wants = $"Fresh seed sleeps for {need.Days!.Value.Low} to {need.Days.Value.High} days of dry storage";
        return since is not { } days ? new(need, NeedStatus.Unknown, $"{wants}; bought seed has had them.")
            : days >= need.EnoughDays ? new(need, NeedStatus.Met, $"{wants}, and has had them.")
            : new(need, NeedStatus.UnderWay, $"{wants}; this lot was harvested {Days(days)} days ago. {NotCounted}");
    }

    private static string Band(CropNeed need, TemperatureScale scale) => need.Band is { } band ? scale.Show(band) : "";

    private static string Difference(double kelvins, TemperatureScale scale) =>
        scale.Show(TemperatureDifference.FromKelvins(Math.Round(kelvins)));

    private static string Days(double days) => string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(days + 0.02):0}");

    private static string Percent(double share) => string.Create(CultureInfo.InvariantCulture, $"{share * 100:0} %");
}
