using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts;

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
    IReadOnlyList<string> Sources)
{
    public static ForecastAnswer Of(Crop crop, EmergenceForecast forecast) => new(
        crop.Id,
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
        crop.Sources);
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
