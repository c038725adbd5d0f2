using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Statistics;

namespace Chamber.Core.Forecasts;

/// <summary>What the temperatures around a sowing say beyond its warm-hours.</summary>
/// <param name="Ahead">How cold and how hot they are for the crop.</param>
/// <param name="IsPossible">Whether any seed comes up there.</param>
/// <param name="Untried">How far beyond the trials of the profile they lie (<see cref="Crops.Untried"/>).</param>
public readonly record struct SowingConditions(SpotAhead Ahead, bool IsPossible, double Untried)
{
    /// <summary>Along recorded or planned temperatures.</summary>
    public static SowingConditions Along(Crop crop, WarmthCourse course)
    {
        ArgumentNullException.ThrowIfNull(crop);
        ArgumentNullException.ThrowIfNull(course);
        return new(
            new(
                course.MeanOf(temperature => temperature < crop.CoolLimit ? 1 : 0),
                course.MeanOf(temperature => temperature > crop.HotLimit ? 1 : 0),
                course.StandShare(crop.Stand, 0)),
            Germinability.IsPossibleAlong(crop.Stand, course),
            course.UntriedOf(crop.Profile));
    }

    /// <summary>Over a spot's usual day.</summary>
    public static SowingConditions Over(Crop crop, HourOfDayProfile usual)
    {
        ArgumentNullException.ThrowIfNull(crop);
        ArgumentNullException.ThrowIfNull(usual);
        return new(
            SpotAhead.Of(crop, [.. usual.Hours.Select(hour => hour?.Mean).OfType<Temperature>()]) ?? new(0, 0, 1),
            Germinability.IsPossibleOver(crop, usual),
            Crops.Untried.Over(crop.Profile, usual));
    }

    /// <summary>Past and future of a batch together: what either allows is possible, and the doubt is that of the stranger one.</summary>
    public SowingConditions And(SowingConditions other) =>
        new(other.Ahead, IsPossible || other.IsPossible, Math.Max(Untried, other.Untried));

    /// <summary>A prior that knows of them.</summary>
    /// <param name="prior">The prior.</param>
    /// <param name="profile">The crop's profile.</param>
    /// <param name="sleepDays">Days that the seed sleeps in the cold it needs: they don't count as waiting.</param>
    public EmergencePrior On(EmergencePrior prior, GerminationProfile profile, double sleepDays = 0)
    {
        ArgumentNullException.ThrowIfNull(prior);
        ArgumentNullException.ThrowIfNull(profile);
        return prior.Widened(Untried) with { IsPossible = IsPossible, WaitDays = profile.WaitDays + sleepDays };
    }

    /// <summary>Why none is to be expected, as the diagnosis judges the temperatures; null when some are.</summary>
    public CauseKind? WhyNone(EmergenceForecast forecast, ShareBelief lot)
    {
        ArgumentNullException.ThrowIfNull(forecast);
        return forecast.NoneLikely ? Ahead.WhyNone(lot).Kind : null;
    }
}
