using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Crops;

/// <summary>Whether seed of a crop wants light to come up.</summary>
public enum LightNeed
{
    Indifferent,
    NeedsLight,
    NeedsDark,
}

/// <summary>Where a germination profile comes from; decides how wide a forecast from it has to be.</summary>
public enum ProfileOrigin
{
    /// <summary>Fitted to measured days of emergence of this crop.</summary>
    Fitted,

    /// <summary>The fitted profile of a relative.</summary>
    Borrowed,

    /// <summary>Days on the packet, or usual days, scaled by temperature over an assumed base.</summary>
    Derived,

    /// <summary>Given, or fitted to trials, by the user.</summary>
    Own,
}

/// <summary>σ of ln warm-hours where it was tried coldest and warmest, each above 0.</summary>
public readonly record struct SpreadEnds(double Coldest, double Warmest);

/// <summary>
/// When a crop comes up: a fixed share of its germinable seeds is up at W warm-hours, Φ((ln W - ln θ50)/σ).
/// </summary>
/// <param name="Cardinals">The temperatures that shape its progress.</param>
/// <param name="HalfWarmHours">θ50: half of the seeds that can come up are up.</param>
/// <param name="Spread">σ of the natural logarithm of warm-hours, positive.</param>
/// <param name="Event">What counts as up in these numbers.</param>
public sealed record GerminationProfile(
    CardinalTemperatures Cardinals,
    WarmHours HalfWarmHours,
    double Spread,
    EmergenceEvent Event)
{
    /// <summary>Where it comes from.</summary>
    public ProfileOrigin Origin { get; init; } = ProfileOrigin.Own;

    /// <summary>
    /// How unsure the crop's θ50 is, lots and homes aside: standard deviation of ln θ50, positive. For the catalog how far its sources lie
    /// apart, 0.16 or more; 0.25 for numbers of the user's own, about what published thermal times of one crop differ by.
    /// </summary>
    public double HalfDeviation { get; init; } = 0.25;

    /// <summary>
    /// How far the base may truly lie from the profile's, K: standard deviation. How much slower seed is at 15 than at 25 °C by 22
    /// published bases of 18 crops differs from the catalog's by as much as 3.6 K of the base in two of three; if both err alike, each by
    /// 2.5. The assumed bases of crops without a table would miss those of the table's crops by 3.5 (<c>BaseDoubtTests</c>).
    /// </summary>
    public double BaseDeviation => Origin == ProfileOrigin.Derived ? 3.5 : 2.5;

    /// <summary>
    /// From the coldest to the warmest trial in which seed came up, for a profile fitted to somebody's own trials; null for others. Beyond
    /// it nothing was seen, and every forecast says so by its width.
    /// </summary>
    public TemperatureBand? Tried { get; init; }

    /// <summary>σ at the coldest and at the warmest of <see cref="Tried"/>, between which ln σ is a straight line; null where one spread
    /// serves.</summary>
    public SpreadEnds? SpreadEnds { get; init; }

    /// <summary>The same with the spread that belongs to a temperature; beyond what was tried the spread of the nearest end.</summary>
    public GerminationProfile At(Temperature temperature)
    {
        if (SpreadEnds is not { } ends || Tried is not { } tried || tried.High <= tried.Low)
        {
            return this;
        }

        var share = Math.Clamp((temperature.Celsius - tried.Low.Celsius) / (tried.High.Celsius - tried.Low.Celsius), 0, 1);
        return this with { Spread = ends.Coldest * Math.Pow(ends.Warmest / ends.Coldest, share) };
    }

    /// <summary>Days after which seed that is not up has rotted in wet mix; null where nothing is assumed, as of the user's own
    /// numbers.</summary>
    public double? WaitDays { get; init; }

    /// <summary>Whether the base lies below 0 °C: it fits the measured days and is not a temperature at which seed lives.</summary>
    public bool BaseIsCurveParameter => Cardinals.Base.Celsius < 0;

    /// <summary>In steady cold below this half would not be up before the seed has rotted, or never.</summary>
    public Temperature LeastWarm => WaitDays is { } wait ? Cardinals.RisingTo(HalfWarmHours.CelsiusDays / wait) : Cardinals.Coldest;

    /// <summary>Days until half are up at a steady temperature, or null where it makes no progress.</summary>
    public double? DaysToHalf(Temperature temperature) =>
        Cardinals.EffectiveWarmth(temperature) is > 0 and var warmth ? HalfWarmHours.CelsiusDays / warmth : null;

    /// <summary>Days until half are up at the fastest temperature.</summary>
    public double FastestDays => HalfWarmHours.CelsiusDays / Cardinals.BestWarmth;
}

/// <summary>A kind of seed with its germination profile.</summary>
/// <param name="Id">Its name.</param>
/// <param name="CommonName">As a grower says it: "tomato".</param>
/// <param name="BotanicalName">Genus and species.</param>
/// <param name="Profile">When it comes up.</param>
/// <param name="Stand">How many come up, by temperature.</param>
/// <param name="IdealBand">Temperatures in which it comes up both fast and full.</param>
/// <param name="CoolLimit">Below this it takes at least twice as long as at its fastest.</param>
/// <param name="HotLimit">Above this fewer than 80 % of the best share come up.</param>
/// <param name="Light">Whether it wants light to come up.</param>
/// <param name="Sources">Where the numbers come from, one sentence for each group of fields.</param>
public sealed record Crop(
    CropId Id,
    string CommonName,
    string BotanicalName,
    GerminationProfile Profile,
    StandCurve Stand,
    TemperatureBand IdealBand,
    Temperature CoolLimit,
    Temperature HotLimit,
    LightNeed Light,
    IReadOnlyList<string> Sources)
{
    /// <summary>How to sow and grow it on, where that is known.</summary>
    public CropGuide? Guide { get; init; }

    /// <summary>Where the sources disagree, in a sentence to show to the user; null where they agree.</summary>
    public string? Conflict { get; init; }

    /// <summary>The share that comes up at best, 0 to 1, where the user has given it or fitted it to trials; null where only published
    /// tables speak.</summary>
    public double? OwnShare { get; init; }

    /// <summary>Parts of it that can hurt, each with its source. None is no proof that it is harmless.</summary>
    public IReadOnlyList<CropHazard> Hazards { get; init; } = [];

    /// <summary>What its seed needs beside warmth and water, each with its source. None is no proof that it needs nothing.</summary>
    public IReadOnlyList<CropNeed> Needs { get; init; } = [];

    /// <summary>Its need of moist chill; null for a crop without one.</summary>
    public CropNeed? Chill => Needs.FirstOrDefault(need => need.Kind == NeedKind.MoistChill);

    /// <summary>Whether it is a crop of the user's own of which nobody has said whether it is poisonous.</summary>
    public bool HazardUnknown { get; init; }

    /// <summary>What warm-hours of this crop are measured against.</summary>
    public WarmthLimits Limits => new(Profile.Cardinals, CoolLimit, HotLimit);
}
