using Chamber.Core.Batches;
using Chamber.Core.Climate;

namespace Chamber.Core.Crops;

/// <summary>Whether seed of a crop wants light to come up.</summary>
public enum LightNeed
{
    Indifferent,
    NeedsLight,
    NeedsDark,
}

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
    EmergenceEvent Event);

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
    IReadOnlyList<string> Sources);
