using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.BeforeSowing;
using Chamber.Core.Needs;

namespace Chamber.Service.Home.Answers;

/// <summary>A forecast for programs: days since the sowing with their 80 % interval; the stand as a share of the seeds sown.</summary>
internal sealed record ForecastAnswer(
    CropId Crop,
    EmergenceEvent Event,
    DaysAnswer First,
    DaysAnswer Half,
    DaysAnswer Most,
    StandAnswer Stand,
    double? StopWaitingAfter,
    NoneReason? NoneBecause,
    ChillAnswer? Chill,
    IReadOnlyList<string> Sources)
{
    /// <summary>How many batches of this home the days were learned from; 0 for those of the tables.</summary>
    public int LearnedFromBatches { get; init; }

    /// <summary>How many times the days of the tables it takes here by that; 1 is as long.</summary>
    public double Pace { get; init; } = 1;

    public static ForecastAnswer Of(CropQuestion question, EmergenceForecast forecast) => new(
        question.Crop.Id,
        forecast.Event,
        DaysAnswer.Of(forecast.First),
        DaysAnswer.Of(forecast.Half),
        DaysAnswer.Of(forecast.Most),
        StandAnswer.Of(forecast.Stand),
        forecast.Stop.After?.TotalDays,
        forecast.NoneBecause switch
        {
            null => null,
            CauseKind.TooCold => NoneReason.TooCold,
            CauseKind.TooHot => NoneReason.TooHot,
            _ => NoneReason.Seed,
        },
        ChillAnswer.Of(forecast.Chill),
        question.Crop.Sources) { LearnedFromBatches = question.Home.Batches, Pace = question.Pace };
}

/// <summary>A forecast on one of the home's spots.</summary>
/// <param name="Spot">The spot.</param>
/// <param name="Forecast">Null where too little was measured to say anything.</param>
internal sealed record SpotForecastAnswer(Core.Spots.SpotId Spot, ForecastAnswer? Forecast);

/// <summary>The moist chill that a forecast reckons with.</summary>
/// <param name="DaysWanted">Days that the crop wants.</param>
/// <param name="DaysHad">Days that the seed has had.</param>
/// <param name="IsFirst">Whether the days of the forecast begin with the rest of it, in the cold.</param>
/// <param name="ShareWithout">The share of sound seed that comes up without it; null where nobody says.</param>
/// <param name="Source">Where that comes from.</param>
internal sealed record ChillAnswer(int DaysWanted, double DaysHad, bool IsFirst, double? ShareWithout, string Source)
{
    public static ChillAnswer? Of(ChillState? chill) => chill is null ? null
        : new(chill.Need.EnoughDays, chill.Days, chill.IsUnderWay, chill.Need.Without, chill.Need.Source);
}

/// <summary>Why not one seed is to be expected, for programs.</summary>
internal enum NoneReason
{
    /// <summary>The seed would rot before it came up.</summary>
    TooCold,

    /// <summary>Seed dies or sleeps in such heat.</summary>
    TooHot,

    /// <summary>The temperature would do; the seed is dead, or nothing came of it for too long.</summary>
    Seed,
}
