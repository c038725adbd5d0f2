using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Statistics;

namespace Chamber.Core.Diagnosis;

/// <summary>What a spot has in store for a batch, by its usual day.</summary>
/// <param name="BelowShare">The share of its hours below the crop's cool limit, 0 to 1.</param>
/// <param name="AboveShare">The share of its hours above the crop's hot limit, 0 to 1.</param>
/// <param name="StandShare">The share of sound seed that it leaves, 0 to 1.</param>
public sealed record SpotAhead(double BelowShare, double AboveShare, double StandShare)
{
    /// <summary>Heat that leaves more than this share of sound seed explains no failure. An assumption.</summary>
    internal const double StandShareMin = 0.85;

    /// <summary>More than a third of the time too cool makes a batch late. Common practice, no source.</summary>
    internal const double CoolShareMax = 1.0 / 3;

    /// <summary>A spot that is too hot for a quarter of its usual day is called hot before anything was measured. An assumption.</summary>
    private const double HotShareMin = 0.25;

    /// <summary>Whether a batch would fail there by heat.</summary>
    public bool IsHot => AboveShare > HotShareMin && StandShare < StandShareMin;

    /// <summary>Whether a batch would be late there by cold.</summary>
    public bool IsCold => BelowShare > CoolShareMax;

    /// <summary>Over the hours of a usual day, or over temperatures a constant time apart; null when there are none.</summary>
    public static SpotAhead? Of(Crop crop, IReadOnlyCollection<Temperature> hours)
    {
        ArgumentNullException.ThrowIfNull(crop);
        ArgumentNullException.ThrowIfNull(hours);
        return hours.Count == 0 ? null : new(
            hours.Count(hour => hour < crop.CoolLimit) / (double)hours.Count,
            hours.Count(hour => hour > crop.HotLimit) / (double)hours.Count,
            StandTally.Over(crop, hours).Share(crop.Stand));
    }

    /// <summary>Why not one seed of a sowing is to be expected there: heat, cold, or else the seed.</summary>
    /// <param name="lot">What is believed of the seed.</param>
    public Cause WhyNone(ShareBelief lot) =>
        IsHot ? new TooHot(0, StandShare, Still: true)
        : IsCold ? new TooCold(0, 0, Still: true, Never: true)
        : new WeakLot(lot.Mean);
}
