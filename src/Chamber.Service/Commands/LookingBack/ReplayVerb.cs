using System.CommandLine;
using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts;
using Chamber.Core.Statistics;
using Chamber.Service.Commands.Sowing;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using Chamber.Service.Plots;
using NodaTime;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>A batch once more, day by day.</summary>
internal static class ReplayVerb
{
    public static Verb Create()
    {
        var batch = Typed.Argument("batch", "Which batch.", text => new BatchId(text));
        var file = new Option<string?>("--out") { HelpName = "FILE", Description = "Draw it into this file (.png or .svg)." };
        return new Verb("replay", "Shows what the forecast said on each day of a batch, from what was known then.",
            "chamber replay T3", "chamber replay T3 --out t3.svg --json") { batch, file }
            .LooksBack()
            .Does(invocation =>
            {
                var found = BatchesVerb.Require(invocation, invocation.Parse.GetValue(batch));
                var days = invocation.Home.At(invocation.Now).Hindsight.Replay(found)
                    ?? throw new BadInputException(found.Looks.Count == 0 ? $"Nobody has looked at {found.Id} yet: chamber look {found.Id} "
                        + $"0" : $"Nothing was measured where {found.Id} stood, so no forecast can be replayed.") { Hint =
                            $"What is known of it: chamber review {found.Id}" };
                if (invocation.Parse.GetValue(file) is { } path)
                {
                    Draw(path, ReplayPlot.Of(found, days, invocation.Zone));
                }

                invocation.Answer(ReplayAnswer.Of(found, days, day => Cause(invocation, found, day, days[0].Forecast)),
                    screen => Show(screen, invocation, found, days));
            });
    }

    private static CauseKind? Cause(Invocation invocation, Batch batch, ReplayDay day, EmergenceForecast atSowing) =>
        invocation.Catalog.Find(batch.Crop) is { } crop && BatchAsOf.Of(batch, day.At) is { } then
            ? BatchDiagnosis.Of(invocation.Home.At(day.At).Diagnoses.Case(then, crop, day.Forecast, atSowing.First)).Cause.Kind
            : null;

    private static void Draw(string path, ScottPlot.Plot plot) => OutputFiles.Write($"--out {path}", () =>
    {
        switch (Path.GetExtension(path).ToUpperInvariant())
        {
            case ".PNG":
                File.WriteAllBytes(path, PlotStyle.Png(plot, PlotSize.Page));
                break;
            case ".SVG":
                File.WriteAllText(path, PlotStyle.Svg(plot, PlotSize.Page));
                break;
            default:
                throw new BadInputException($"--out {path}: name a file that ends in .png or .svg.");
        }
    });

    private static void Show(Screen screen, Invocation invocation, Batch batch, IReadOnlyList<ReplayDay> days)
    {
        var compared = HomeHindsight.Compare(batch, days[0].Forecast);
        screen.Headline(compared.FirstOrDefault(each => each.Milestone == Milestone.Half) is { } half
            ? $"{batch.Id}: half up between day {RangeText.Day(half.After.TotalDays)} and {RangeText.Day(half.By.TotalDays)}; forecast at "
                + $"sowing {Days(half.Predicted)}."
            : $"{batch.Id}: what the forecast said day by day.");
        screen.Say();
        screen.Table(["Day", ">Up", "First up", "Half up", "Nine in ten up", "How many", "Stop waiting"], days.Select(day => new[]
        {
            BatchWords.Day(invocation, day.At),
            day.Up.ToString(CultureInfo.InvariantCulture),
            Days(day.Forecast.First),
            Days(day.Forecast.Half),
            Days(day.Forecast.Most),
            $"{day.Forecast.StandLow} to {day.Forecast.StandHigh}",
            day.Forecast.Stop.IsDue ? "now" : day.Forecast.Stop.After is { } stop ? $"day {RangeText.Day(stop.TotalDays)}" : "not in sight",
        }));
        screen.Aside("Days since sowing; right about 4 times in 5. Each day uses only the looks and temperatures before it.");
    }

    private static string Days(TimeEstimate time) => (time.Low, time.High) switch
    {
        ({ } low, { } high) => $"{RangeText.Day(low.TotalDays)} to {RangeText.Day(high.TotalDays)}",
        ({ } low, null) => $"{RangeText.Day(low.TotalDays)} or later",
        _ => "cannot say",
    };
}

/// <summary>A replay for programs; days since the sowing.</summary>
internal sealed record ReplayAnswer(
    BatchId Batch, CropId Crop, Instant SownAt, int Seeds, IReadOnlyList<ReplayDayAnswer> Days, IReadOnlyList<ComparedAnswer> Actual,
        GerminationMeasures Measures)
{
    public static ReplayAnswer Of(Batch batch, IReadOnlyList<ReplayDay> days, Func<ReplayDay, CauseKind?> cause) => new(
        batch.Id,
        batch.Crop,
        batch.SownAt,
        batch.Seeds,
        [.. days.Select(day => ReplayDayAnswer.Of(batch, day, cause(day)))],
        [.. HomeHindsight.Compare(batch, days[0].Forecast).Select(ComparedAnswer.Of)],
        GerminationMeasures.Of(batch.Seeds, batch.DayCounts));
}

/// <summary>What the forecast would have said on one day.</summary>
internal sealed record ReplayDayAnswer(
    Instant At,
    double Day,
    int Up,
    double WarmHours,
    DaysAnswer First,
    DaysAnswer Half,
    DaysAnswer Most,
    StandAnswer Stand,
    double ChanceFirstUp,
    double ChanceOfMore,
    double? StopWaitingAfter,
    CauseKind? StopReason)
{
    public static ReplayDayAnswer Of(Batch batch, ReplayDay day, CauseKind? cause) => new(
        day.At,
        (day.At - batch.SownAt).TotalDays,
        day.Up,
        day.WarmHours,
        DaysAnswer.Of(day.Forecast.First),
        DaysAnswer.Of(day.Forecast.Half),
        DaysAnswer.Of(day.Forecast.Most),
        StandAnswer.Of(day.Forecast.Stand),
        day.Forecast.ChanceFirstUp,
        day.Forecast.ChanceOfMore,
        day.Forecast.Stop.After?.TotalDays,
        cause);
}
