using Chamber.Core.Batches;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using NodaTime;

namespace Chamber.Service.Commands.Sowing;

/// <summary>A batch in words.</summary>
internal static class BatchWords
{
    public static void ShowForecast(Screen screen, Invocation invocation, BatchOutlook outlook)
    {
        var batch = outlook.Batch;
        foreach (var need in HomeNeeds.Open(HomeNeeds.Of(invocation.Home, batch, invocation.Now)))
        {
            screen.Say(need);
        }

        if (outlook.Forecast is not { } forecast)
        {
            screen.Say("It is too early to say when it will be up: nothing was measured where it is.");
            return;
        }

        screen.Facts(
        [
            ("First up", When(invocation, batch, forecast.First)),
            ("Half up", When(invocation, batch, forecast.Half)),
            ("Nine in ten up", When(invocation, batch, forecast.Most)),
            ("How many", RangeText.Counts(forecast.StandLow, forecast.StandHigh, batch.Seeds)),
            ("Stop waiting", forecast.Stop.After is { } stop ? Day(invocation, batch.SownAt + stop) : "not in sight"),
        ]);
        if (outlook.Diagnosis is { Cause: not (NotYet or AllUp or WentWell) } diagnosis)
        {
            screen.Say(diagnosis.Sentence);
            screen.Say(diagnosis.Advice);
        }
    }

    /// <summary>An interval of days: <c>Thu 5 Mar to Sat 7 Mar</c>.</summary>
    public static string When(Invocation invocation, Batch batch, TimeEstimate time) =>
        When(batch, time, invocation.Zone, invocation.Now.InZone(invocation.Zone).Date);

    public static string When(Batch batch, TimeEstimate time, DateTimeZone zone, LocalDate today) => (time.Low, time.High) switch
    {
        ({ } low, { } high) => RangeText.Dates((batch.SownAt + low).InZone(zone).Date, (batch.SownAt + high).InZone(zone).Date, today),
        ({ } low, null) => $"{TimeText.ShowDay((batch.SownAt + low).InZone(zone).Date, today)} or later",
        _ => "not to be expected",
    };

    public static string Day(Invocation invocation, Instant at) =>
        TimeText.ShowDay(DateOf(invocation, at), invocation.Now.InZone(invocation.Zone).Date);

    private static LocalDate DateOf(Invocation invocation, Instant at) => at.InZone(invocation.Zone).Date;
}
