using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts;
using NodaTime;

namespace Chamber.Service.Home.Answers;

/// <summary>When it is up, as instants with their 80 % interval, and how many.</summary>
internal sealed record ForecastTimes(
    EmergenceEvent Event,
    TimesAnswer First,
    TimesAnswer Half,
    TimesAnswer Most,
    StandAnswer Stand,
    Instant? StopWaiting,
    CauseKind? StopReason,
    string? StopAdvice,
    double ChanceFirstUp,
    double ChanceOfMore)
{
    public static ForecastTimes? Of(BatchOutlook outlook) =>
        outlook.Forecast is { } forecast ? Of(outlook.Batch.SownAt, forecast, outlook.Diagnosis) : null;

    private static ForecastTimes Of(Instant sown, EmergenceForecast forecast, BatchDiagnosis? diagnosis) => new(
        forecast.Event,
        TimesAnswer.Of(sown, forecast.First),
        TimesAnswer.Of(sown, forecast.Half),
        TimesAnswer.Of(sown, forecast.Most),
        StandAnswer.Of(forecast.Stand),
        sown + forecast.Stop.After,
        diagnosis?.Cause.Kind,
        diagnosis?.Advice,
        forecast.ChanceFirstUp,
        forecast.ChanceOfMore);
}

internal sealed record TimesAnswer(Instant? Low, Instant? Mid, Instant? High)
{
    public static TimesAnswer Of(Instant sown, TimeEstimate time) => new(sown + time.Low, sown + time.Mid, sown + time.High);
}
