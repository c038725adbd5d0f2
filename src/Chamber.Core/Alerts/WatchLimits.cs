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

    /// <summary>Too hot for seedlings: this far, K, above the top of their growing day. Common practice, no source.</summary>
    public double SeedlingHotKelvins { get; init; } = 10;

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

    /// <summary>Swinging: so many hours below the cool limit within 24 h ...</summary>
    public double SwingColdHours { get; init; } = 2;

    /// <summary>... and so many above the hot limit.</summary>
    public double SwingHotHours { get; init; } = 1;

    /// <summary>Survey stale: the mean of 24 h this far, K, from that of the survey ...</summary>
    public double StaleKelvins { get; init; } = 2;

    /// <summary>... for so long. Over again at half of it.</summary>
    public Duration StaleHold { get; init; } = Duration.FromHours(24);

    /// <summary>Two probes of one measurand on one spot disagree: their difference this far, K, from what it was while they agreed ...</summary>
    public double DisagreeKelvins { get; init; } = 1.5;

    /// <summary>... for so long. Over again at half of it.</summary>
    public Duration DisagreeHold { get; init; } = Duration.FromHours(6);

    /// <summary>Too wet: media above this, % of its own saturated reading ...</summary>
    public double WetPercent { get; init; } = 90;

    /// <summary>... for so long since it was wetted last, in mix ...</summary>
    public Duration WetHoldMix { get; init; } = Duration.FromHours(24);

    /// <summary>... and in a towel, in which seed lies in the water itself.</summary>
    public Duration WetHoldTowel { get; init; } = Duration.FromHours(12);

    /// <summary>Drying out: mix below this, % of its own saturated reading.</summary>
    public double DryPercentMix { get; init; } = 30;

    /// <summary>Drying out: a towel below this.</summary>
    public double DryPercentTowel { get; init; } = 50;

    /// <summary>Drying out holds for so long before it is said.</summary>
    public Duration DryHold { get; init; } = Duration.FromHours(1);

    /// <summary>%, how far moisture must come back before too wet or drying out is over.</summary>
    public double MoistureMargin { get; init; } = 5;

    /// <summary>Air above this, %, for <see cref="LidTightHold"/> shows that a cover is shut.</summary>
    public double LidTightPercent { get; init; } = 95;

    public Duration LidTightHold { get; init; } = Duration.FromHours(6);

    /// <summary>Drying out by the air: under a cover that was shut it falls below this, % ...</summary>
    public double LidDryPercent { get; init; } = 85;

    /// <summary>... for so long.</summary>
    public Duration LidDryHold { get; init; } = Duration.FromHours(3);

    /// <summary>Cover shut: so long after the first were up in mix. Worse after twice that.</summary>
    public Duration CoverHoldMix { get; init; } = Duration.FromHours(24);

    /// <summary>The same for roots in a towel, which grow into it.</summary>
    public Duration CoverHoldTowel { get; init; } = Duration.FromHours(12);

    /// <summary>°C from which on seedlings in the dark grow long and pale.</summary>
    public double WarmDarkCelsius { get; init; } = 18;

    /// <summary>Warm and dark: so many hours of it since the first were up. Worse after three times that.</summary>
    public double WarmDarkHours { get; init; } = 12;

    /// <summary>Faulty probe: so many of one fault within its time.</summary>
    public int FaultCount { get; init; } = 3;

    /// <summary>Faulty probe: the same value to the last digit for so long, over at least 48 readings.</summary>
    public Duration FlatHold { get; init; } = Duration.FromHours(24);

    /// <summary>Faulty probe: humidity at its upper end for so long where nothing is covered.</summary>
    public Duration SaturatedHold { get; init; } = Duration.FromHours(24);

    /// <summary>Weak battery: at or below this, %. Over again at twice that.</summary>
    public double BatteryPercent { get; init; } = 10;

    /// <summary>Readings of one place may arrive out of order by so much before the place is folded again from a checkpoint.</summary>
    public Duration Settle { get; init; } = Duration.FromMinutes(2);

    /// <summary>The same limits with one other, by its name in scripts: <c>too hot hold</c>, <c>20 min</c>.</summary>
    /// <exception cref="FormatException">There is no such limit, or the value cannot be one; the message says the mend.</exception>
    public WatchLimits With(string name, string value) => Scripts.ScriptLimits.Set(this, name, value);
}
