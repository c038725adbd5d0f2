using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.BeforeSowing;
using Chamber.Core.Spots;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Spots;

/// <summary>When a crop would be up on each spot of the home: what <c>forecast</c> answers when no place is named.</summary>
internal static class SpotForecasts
{
    public static void Show(Invocation invocation, CropQuestion question)
    {
        var forecasts = invocation.Home.AtNow.Forecasts;
        List<(SpotId Spot, EmergenceForecast? Forecast)> rows =
        [
            .. invocation.Home.Spots().Select(spot => (Spot: spot.Id, Forecast: forecasts.OnSpot(question, spot.Id)))
                .OrderBy(row => row.Forecast is null).ThenBy(row => row.Forecast?.NoneLikely)
                .ThenBy(row => row.Forecast?.Half.Mid?.TotalDays ?? double.MaxValue).ThenBy(row => row.Spot.Text, StringComparer.Ordinal),
        ];
        invocation.Answer(
            rows.Select(row => new SpotForecastAnswer(row.Spot, row.Forecast is { } known ? ForecastAnswer.Of(question, known) : null)),
            screen => Show(screen, question, rows));
    }

    private static void Show(Screen screen, CropQuestion question, List<(SpotId Spot, EmergenceForecast? Forecast)> rows)
    {
        var crop = PlainText.Capital(question.Crop.CommonName);
        screen.Headline(rows[0].Forecast switch
        {
            null => $"{crop}: no spot has been measured through a whole day yet, so nothing can be said.",
            { NoneLikely: false, Half.Mid: { } half } =>
                $"{crop}: soonest on {rows[0].Spot}, half up after {RangeText.Day(half.TotalDays)} days.",
            _ => $"{crop}: on none of the measured spots would it come up.",
        });
        screen.Say();
        screen.Table(["Spot", "First up", "Half up", "How many", "Stop waiting"],
            rows.Select(row => (string[])[row.Spot.Text, .. Cells(row.Forecast, question.Seeds)]));
        screen.Aside(KnowledgeWords.Of(question));
        screen.Aside($"Which spot suits it best: chamber spots --crop {question.Crop.Id}. At a steady temperature: chamber forecast --crop "
            + $"{question.Crop.Id} --at 22C");
    }

    private static string[] Cells(EmergenceForecast? forecast, int seeds) => forecast switch
    {
        null => ["not measured", "-", "-", "-"],
        { NoneLikely: true } => [ForecastVerb.None(forecast.NoneBecause), "-", $"0 of {seeds}", "-"],
        _ =>
        [
            ForecastVerb.Days(forecast.First),
            ForecastVerb.Days(forecast.Half),
            RangeText.Counts(forecast.StandLow, forecast.StandHigh, seeds),
            forecast.Stop.After is { } stop ? $"after {RangeText.Day(stop.TotalDays)} days" : "not in sight",
        ],
    };
}
