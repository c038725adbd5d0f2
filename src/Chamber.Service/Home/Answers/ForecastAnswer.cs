using Chamber.Core.Crops;
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
        forecast.NoneBecause,
        crop.Sources);
}
