using Chamber.Core.Climate;
using Chamber.Core.Crops;

namespace Chamber.Core.Forecasts;

/// <summary>What the temperatures around a sowing say beyond its warm-hours.</summary>
/// <param name="Mean">Their mean.</param>
/// <param name="IsPossible">Whether any seed comes up there.</param>
/// <param name="Untried">How far beyond the trials of the profile they lie (<see cref="Crops.Untried"/>).</param>
public readonly record struct SowingConditions(Temperature Mean, bool IsPossible, double Untried)
{
    /// <summary>Along recorded or planned temperatures.</summary>
    public static SowingConditions Along(Crop crop, WarmthCourse course)
    {
        ArgumentNullException.ThrowIfNull(crop);
        ArgumentNullException.ThrowIfNull(course);
        return new(
            Temperature.FromCelsius(course.MeanOf(temperature => temperature.Celsius)),
            Germinability.IsPossibleAlong(crop.Stand, course),
            course.UntriedOf(crop.Profile));
    }

    /// <summary>Over a spot's usual day.</summary>
    public static SowingConditions Over(Crop crop, HourOfDayProfile usual)
    {
        ArgumentNullException.ThrowIfNull(crop);
        ArgumentNullException.ThrowIfNull(usual);
        return new(
            Temperature.FromCelsius(usual.Hours.Where(hour => hour is not null).Select(hour => hour!.Value.Mean.Celsius)
                .DefaultIfEmpty(0).Average()),
            Germinability.IsPossibleOver(crop, usual),
            Crops.Untried.Over(crop.Profile, usual));
    }

    /// <summary>Past and future of a batch together: what either allows is possible, and the doubt is that of the stranger one.</summary>
    public SowingConditions And(SowingConditions other) =>
        new(other.Mean, IsPossible || other.IsPossible, Math.Max(Untried, other.Untried));

    /// <summary>A prior that knows of them.</summary>
    public EmergencePrior On(EmergencePrior prior, GerminationProfile profile)
    {
        ArgumentNullException.ThrowIfNull(prior);
        ArgumentNullException.ThrowIfNull(profile);
        return prior.Widened(Untried) with { IsPossible = IsPossible, WaitDays = profile.WaitDays };
    }

    /// <summary>Why none is to be expected; null when some are.</summary>
    public NoneReason? Blame(Crop crop, EmergenceForecast forecast)
    {
        ArgumentNullException.ThrowIfNull(crop);
        ArgumentNullException.ThrowIfNull(forecast);
        return !forecast.NoneLikely ? null
            : Mean < crop.IdealBand.Low ? NoneReason.TooCold
            : Mean > crop.IdealBand.High ? NoneReason.TooHot
            : NoneReason.Seed;
    }
}

/// <summary>Why not one seed is to be expected.</summary>
public enum NoneReason
{
    /// <summary>The seed would rot before it came up.</summary>
    TooCold,

    /// <summary>Seed dies or sleeps in such heat.</summary>
    TooHot,

    /// <summary>The temperature would do; the seed is dead, or nothing came of it for too long.</summary>
    Seed,
}
