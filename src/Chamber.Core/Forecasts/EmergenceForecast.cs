using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Needs;
using Chamber.Core.Statistics;
using NodaTime;

namespace Chamber.Core.Forecasts;

/// <summary>When seeds of a batch come up and how many.</summary>
/// <param name="Event">What counts as up.</param>
/// <param name="First">The first is up.</param>
/// <param name="Half">Half of all that will ever come up are up.</param>
/// <param name="Most">Nine in ten of them are up.</param>
/// <param name="Stand">How many of the sown seeds come up in all, as a share: 80 % interval of what will be counted.</param>
/// <param name="StandLow">The same as a count: low end.</param>
/// <param name="StandHigh">The same as a count: high end.</param>
/// <param name="ChanceFirstUp">The chance that at least one is up now, 0 to 1; 1 when one was seen.</param>
/// <param name="ChanceOfMore">The chance that at least one more than were seen will ever come up.</param>
/// <param name="Stop">When to stop waiting.</param>
public sealed record EmergenceForecast(
    EmergenceEvent Event,
    TimeEstimate First,
    TimeEstimate Half,
    TimeEstimate Most,
    ShareInterval Stand,
    int StandLow,
    int StandHigh,
    double ChanceFirstUp,
    double ChanceOfMore,
    StopWaiting Stop)
{
    /// <summary>Nine times in ten not one seed comes up: too hot or too cold for this crop, or dead seed.</summary>
    public bool NoneLikely => StandHigh == 0;

    /// <summary>Why, where that was asked; null when some are to be expected.</summary>
    public CauseKind? NoneBecause { get; init; }

    /// <summary>The moist chill that it reckons with; null for a crop that needs none.</summary>
    public ChillState? Chill { get; init; }

    /// <summary>The estimate of one milestone.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The forecast keeps no time for it.</exception>
    public TimeEstimate this[Milestone milestone] => milestone switch
    {
        Milestone.First => First,
        Milestone.Half => Half,
        Milestone.Most => Most,
        _ => throw new ArgumentOutOfRangeException(nameof(milestone), milestone, "A forecast keeps times of the first, half and most."),
    };
}

/// <summary>
/// A time since the sowing with its 80 % interval, given that the milestone is passed at all. An end is null when the spot
/// will not bring it within ten years; all are when nine times in ten not one seed comes up.
/// </summary>
/// <param name="Low">One in ten comes sooner.</param>
/// <param name="Mid">As likely sooner as later.</param>
/// <param name="High">One in ten comes later.</param>
/// <param name="Ever">The chance that it is passed at all: that any seed comes up.</param>
public sealed record TimeEstimate(Duration? Low, Duration? Mid, Duration? High, double Ever);

/// <summary>The day on which the chance of even one more seedling falls under the chosen share, if none comes until then.</summary>
/// <param name="After">Time since the sowing; null when the spot is too cold ever to tell.</param>
/// <param name="IsDue">That time is over, and somebody has looked about then or later, within the last two weeks.</param>
public sealed record StopWaiting(Duration? After, bool IsDue)
{
    /// <summary>That time is over, but nobody has looked then or since, or not for two weeks: look first.</summary>
    public bool NeedsLook { get; init; }

    /// <summary>Every seed is up: nothing is left to wait for.</summary>
    public bool AllUp { get; init; }

    /// <summary>It has not had, and will not have within three weeks, the warmth by which half of most batches are up.</summary>
    public bool IsSlow { get; init; }
}
