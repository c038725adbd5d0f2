using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Spots;

/// <summary>What a suitability is made of.</summary>
/// <param name="SpeedShare">Warm-hours a day as a share of the crop's best day, 0 to 1.</param>
/// <param name="StandShare">Expected share of seeds that become normal seedlings, 0 to 1.</param>
/// <param name="BestStandShare">The same at the crop's best steady temperature.</param>
/// <param name="HoursBelow">Hours a day below the cool limit.</param>
/// <param name="HoursAbove">Hours a day above the hot limit.</param>
/// <param name="Swing">Warmest less coolest hour of a day, on average.</param>
/// <param name="WarmHoursPerDay">Warm-hours that a usual day brings.</param>
public sealed record SuitabilityParts(
    double SpeedShare,
    double StandShare,
    double BestStandShare,
    double HoursBelow,
    double HoursAbove,
    TemperatureDifference Swing,
    WarmHours WarmHoursPerDay);

/// <summary>How well a spot serves a crop. Confidence is a separate number and never part of the score.</summary>
/// <param name="Score">0 to 100: speed as a share of the crop's best day, times stand as a share of its best.</param>
/// <param name="Low">80 % interval of the score from how the days differ and how far the probes may be off: its low end.</param>
/// <param name="High">Its high end.</param>
/// <param name="Confidence">0 to 100: how well the spot is known (<see cref="Survey.Confidence"/>).</param>
/// <param name="DaysToHalf">Days until half are up in the usual days of the spot; null where it makes no progress.</param>
/// <param name="Parts">What the score is made of.</param>
/// <param name="Stage">How far the survey is.</param>
/// <param name="HarmfulHeat">Whether an hour reached the crop's ceiling or 40 °C; the score is then at most 40.</param>
public sealed record Suitability(
    double Score,
    double Low,
    double High,
    double Confidence,
    double? DaysToHalf,
    SuitabilityParts Parts,
    SurveyStage Stage,
    bool HarmfulHeat);
