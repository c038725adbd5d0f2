using System.CommandLine;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using NodaTime;

namespace Chamber.Service.Commands;

/// <summary>Writes down a sowing and says when to look.</summary>
internal static class SowVerb
{
    public static Verb Create()
    {
        var crop = new Argument<string>("crop") { Description = "What was sown, by any of its names." };
        var seeds = new Option<int>("--seeds") { Required = true, HelpName = "N", Description = "How many seeds." };
        var spot = new Option<string>("--spot") { Required = true, HelpName = "SPOT", Description = "Where it stands." };
        var method = Typed.Option<SowingMethod?>("--method", "METHOD", "covered-mix (unless told), open-mix or damp-towel.", text => Choice.Parse<SowingMethod>(text));
        var lot = Typed.Option<LotId?>("--lot", "LOT", "The lot of seed.", text => new LotId(text));
        var name = Typed.Option<BatchId?>("--name", "NAME", "A name for the stick; otherwise the next free one, such as T3.", text => new BatchId(text));
        var when = new Option<string?>("--when") { HelpName = "TIME", Description = "When it was wetted and placed. Now unless told." };
        return new Verb("sow", "Writes down a sowing and says when to look.", "chamber sow tomato --seeds 12 --spot boiler-top", "chamber sow basil --seeds 20 --spot shelf --method damp-towel --when yesterday") { crop, seeds, spot, method, lot, name, when }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var batch = invocation.Batches.Sow(new(
                    parse.GetValue(crop)!,
                    parse.GetValue(seeds),
                    parse.GetValue(spot)!,
                    parse.GetValue(method),
                    parse.GetValue(lot),
                    parse.GetValue(name),
                    At: parse.GetValue(when)));
                Answer(invocation, batch, invocation.Catalog.Require(batch.Crop.Text), invocation.Home.RequireSpot(batch.Stays[0].Spot.Text));
            });
    }

    private static void Answer(Invocation invocation, Batch batch, Crop crop, Spot spot)
    {
        var outlook = new HomeDiagnoses(invocation.Home, invocation.Now).Of(batch);
        invocation.Answer(BatchAnswer.Of(outlook), screen =>
        {
            screen.Headline($"{batch.Id}: {batch.Seeds} {crop.CommonName} on {spot.Id}, {Choice.Words(batch.Method)}, sown {invocation.Show(batch.SownAt)}.");
            BatchWords.ShowForecast(screen, invocation, outlook);
            if (HomeBatches.LightWarning(crop, spot) is { } warning)
            {
                screen.Warn(warning);
            }

            foreach (var advice in SowingAdvice.For(crop, batch.Method, HomeCautions.IsTreated(invocation.Home, batch.Lot)))
            {
                screen.Say(advice);
            }

            screen.Warn(HomeCautions.OfSowing(invocation.Home, batch));
        });
    }
}

/// <summary>A batch in words.</summary>
internal static class BatchWords
{
    public static void ShowForecast(Screen screen, Invocation invocation, BatchOutlook outlook)
    {
        var batch = outlook.Batch;
        if (outlook.Forecast is not { } forecast)
        {
            screen.Say("When it will be up cannot be said yet: nothing was measured where it stands.");
            return;
        }

        screen.Facts(
        [
            ("First up", When(invocation, batch, forecast.First)),
            ("Half up", When(invocation, batch, forecast.Half)),
            ("Nine in ten up", When(invocation, batch, forecast.Most)),
            ("How many", $"{forecast.StandLow} to {forecast.StandHigh} of {batch.Seeds}"),
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
