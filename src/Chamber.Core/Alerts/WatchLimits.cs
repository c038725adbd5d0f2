using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>
/// The limits in force where a crop has none of its own. docs/alerts.md lists each with its source;
/// those without one are common practice and are marked so there.
/// </summary>
public sealed record WatchLimits
{
    /// <summary>Too cold: so many hours of progress lost below the cool limit within 24 h. 1 to 24.</summary>
    public double ColdLostHours { get; init; } = 6;

    /// <summary>Too cold is over when it is this much above the cool limit, K ...</summary>
    public double ColdMargin { get; init; } = 1;

    /// <summary>... for so long.</summary>
    public Duration ColdClearHold { get; init; } = Duration.FromHours(1);

    /// <summary>Too hot: above the hot limit for so long, by a probe in the media or on the outside of the container.</summary>
    public Duration HotHold { get; init; } = Duration.FromMinutes(30);

    /// <summary>The same by an air probe: media lags the air by 1 to 3 h, so short peaks of air do not reach the seed.</summary>
    public Duration HotHoldAir { get; init; } = Duration.FromMinutes(60);

    /// <summary>Too hot is over when it is this much below the hot limit, K ...</summary>
    public double HotMargin { get; init; } = 1;

    /// <summary>... for so long.</summary>
    public Duration HotClearHold { get; init; } = Duration.FromMinutes(30);

    /// <summary>°C of media above which seed is harmed: said at once.</summary>
    public double HarmCelsius { get; init; } = 40;

    /// <summary>°C of anything above which there is danger: said at once.</summary>
    public double DangerCelsius { get; init; } = 50;

    /// <summary>A hazard is over when it is this much below its limit, K ...</summary>
    public double HazardMargin { get; init; } = 2;

    /// <summary>... for so long.</summary>
    public Duration HazardClearHold { get; init; } = Duration.FromMinutes(15);

    /// <summary>A reading this far, K, from the one before within <see cref="SpikeSpan"/> waits for the next one before it counts.</summary>
    public double SpikeKelvins { get; init; } = 8;

    /// <summary>See <see cref="SpikeKelvins"/>.</summary>
    public Duration SpikeSpan { get; init; } = Duration.FromMinutes(15);

    /// <summary>Readings of one place may arrive out of order by so much before the place is folded again from a checkpoint.</summary>
    public Duration Settle { get; init; } = Duration.FromMinutes(2);
}
