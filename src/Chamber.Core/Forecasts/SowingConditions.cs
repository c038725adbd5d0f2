using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Statistics;

namespace Chamber.Core.Forecasts;

/// <summary>What the temperatures around a sowing say beyond its warm-hours.</summary>
/// <param name="Ahead">How cold and how hot they are for the crop.</param>
/// <param name="IsPossible">Whether any seed comes up there.</param>
/// <param name="Untried">How far beyond the trials of the profile they lie (<see cref="Crops.Untried"/>).</param>
/// <param name="PerBaseKelvin">What a higher base of the crop would do there (<see cref="BaseSlope"/>), 1/K.</param>
/// <param name="Mean">The mean temperature.</param>
public readonly record struct SowingConditions(
    SpotAhead Ahead, bool IsPossible, double Untried, double PerBaseKelvin, Temperature Mean)
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
            course.UntriedOf(crop.Profile),
            course.PerBaseKelvinOf(crop),
            course.MeanTemperature);
    }

    /// <summary>Over a spot's usual day.</summary>
    public static SowingConditions Over(Crop crop, HourOfDayProfile usual)
    {
        ArgumentNullException.ThrowIfNull(crop);
        ArgumentNullException.ThrowIfNull(usual);
        return new(
            SpotAhead.Of(crop, [.. usual.Hours.Select(hour => hour?.Mean).OfType<Temperature>()]) ?? new(0, 0, 1),
            Germinability.IsPossibleOver(crop, usual),
            Crops.Untried.Over(crop.Profile, usual),
            BaseSlope.Over(crop, usual),
            Temperature.FromCelsius(usual.Hours.Where(hour => hour is not null).Average(hour => hour!.Value.Mean.Celsius)));
    }

    /// <summary>At a steady temperature.</summary>
    public static SowingConditions At(Crop crop, Temperature temperature)
    {
        ArgumentNullException.ThrowIfNull(crop);
        return new(SpotAhead.Of(crop, [temperature])!, Germinability.IsPossibleAt(crop.Stand, temperature),
            Crops.Untried.At(crop.Profile, temperature), BaseSlope.At(crop, temperature), temperature);
    }

    /// <summary>Past and future of a batch together: what either allows is possible, and the doubt is that of the stranger one.</summary>
    /// <param name="other">The future.</param>
    /// <param name="past">The part of the warmth to half that lies in the past, 0 to 1.</param>
    public SowingConditions And(SowingConditions other, double past) =>
        new(other.Ahead, IsPossible || other.IsPossible, Math.Max(Untried, other.Untried),
            past * PerBaseKelvin + (1 - past) * other.PerBaseKelvin,
            Temperature.FromCelsius(past * Mean.Celsius + (1 - past) * other.Mean.Celsius));

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
