using System.CommandLine;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts.BeforeSowing;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Answers;
using Chamber.Service.Import;
using NodaTime;

namespace Chamber.Service.Commands.Spots;

/// <summary>Warm-hours of a crop: along a recorded temperature, on a spot, or of a batch since its sowing.</summary>
internal static class WarmthVerb
{
    private const int DaysShownMax = 31;

    public static Verb Create()
    {
        var options = new WarmthOptions();
        var verb = new Verb(
            "warmth",
            "Adds up a crop's warm-hours along a recorded temperature, on a spot, or for a batch since sowing.",
            "chamber warmth --crop tomato --trace shelf.csv",
            "chamber warmth --batch T3",
            "chamber warmth --crop basil --spot boiler-top --since \"2026-03-01 08:00\" --json");
        options.AddTo(verb);
        return verb.LooksBack().Does(invocation =>
        {
            var asked = options.Read(invocation);
            var usual = HourOfDayProfile.From(asked.Trace, invocation.Zone);
            var report = asked.When is { } when
                ? WarmthFold.Over(asked.Trace, when, asked.Crop.Limits, invocation.Zone, usual)
                : WarmthFold.Over(asked.Trace, asked.Crop.Limits, invocation.Zone, usual);
            invocation.Answer(WarmthAnswer.Of(asked, report), screen => Show(screen, asked, report));
        });
    }

    private static void Show(Screen screen, WarmthAsked asked, WarmthReport report)
    {
        var total = report.Total;
        var warmth = total.Measured + total.Estimated;
        var share = warmth.CelsiusHours / asked.Half.CelsiusHours;
        var part = share < 2 ? RangeText.Percent(share) : $"{PlainText.Number(share)} times";
        screen.Headline($"{warmth.CelsiusHours:0} °C·h of warm-hours {asked.Where}: {part} {(share < 2 ? "of " : string.Empty)}what half "
            + $"of the {asked.Crop.CommonName} needs.");
        screen.Say($"{Hours(total.MeasuredTime)} measured, {Hours(total.EstimatedTime)} estimated from the usual day, "
            + $"{Hours(total.UnknownTime)} unknown.");
        if (total.HoursBelow > 0 || total.HoursAbove > 0)
        {
            screen.Say($"{PlainText.Number(total.HoursBelow)} h below the cool limit of {screen.Show(asked.Crop.CoolLimit)}, "
                + $"{PlainText.Number(total.HoursAbove)} h above the hot limit of {screen.Show(asked.Crop.HotLimit)}.");
        }

        foreach (var refusal in asked.Refused.Take(3))
        {
            screen.Warn($"{refusal.Source}: {refusal.Raw} is not used. {refusal.Fix}");
        }

        if (asked.Refused.Count > 3)
        {
            screen.Warn($"{asked.Refused.Count - 3} more lines are not used.");
        }

        screen.Say();
        screen.Table(
            ["Day", ">Warm-hours °C·h", ">Measured h", ">Estimated h", ">Unknown h", ">Below h", ">Above h"],
            report.Days.TakeLast(DaysShownMax).Select(day => new[]
            {
                TimeText.ShowDay(day.Date, day.Date),
                PlainText.Number((day.Sum.Measured + day.Sum.Estimated).CelsiusHours),
                PlainText.Number(day.Sum.MeasuredTime.TotalHours),
                PlainText.Number(day.Sum.EstimatedTime.TotalHours),
                PlainText.Number(day.Sum.UnknownTime.TotalHours),
                PlainText.Number(day.Sum.HoursBelow),
                PlainText.Number(day.Sum.HoursAbove),
            }));
    }

    private static string Hours(Duration time) => $"{PlainText.Number(time.TotalHours)} h";
}

/// <summary>The options of <c>warmth</c>.</summary>
internal sealed class WarmthOptions
{
    private readonly Option<string?> crop =
        new("--crop") { HelpName = "CROP", Description = "The crop, by any of its names. Not needed with --batch." };
    private readonly Option<string?> trace =
        new("--trace") { HelpName = "FILE", Description = "CSV with columns at,temperature (RFC 3339, °C)." };
    private readonly Option<string?> spot = new("--spot") { HelpName = "SPOT", Description = "One of your spots." };
    private readonly Option<string?> batch =
        new("--batch") { HelpName = "BATCH", Description = "A batch, since it was sown, on all its spots." };
    private readonly Option<string?> since =
        new("--since") { HelpName = "TIME", Description = "With --spot: since when. Default: 14 days ago." };
    private readonly Option<Duration?> maxGap = Typed.Option<Duration?>("--max-gap", "TIME",
        "With --trace: readings further apart than this leave a gap. Default: 2h.", text =>
            Core.Bounds.MaxGap.Require(DurationText.Parse(text)));

    public void AddTo(Command verb)
    {
        foreach (var option in new Option[] { crop, trace, spot, batch, since, maxGap })
        {
            verb.Add(option);
        }
    }

    public WarmthAsked Read(Invocation invocation)
    {
        var parse = invocation.Parse;
        return (parse.GetValue(trace), parse.GetValue(spot), parse.GetValue(batch)) switch
        {
            ({ } file, null, null) => OfTrace(file, Crop(invocation), parse.GetValue(maxGap) ?? Probe.DefaultMaxGap),
            (null, { } name, null) => OfSpot(invocation, name, Crop(invocation)),
            (null, null, { } name) => OfBatch(invocation, name),
            (null, null, null) => throw new BadInputException("Say what to add up: --trace FILE.csv, --spot NAME or --batch NAME.")
            {
                Hint = $"As in: chamber warmth --crop {invocation.Parse.GetValue(crop) ?? "tomato"} --spot boiler-top",
            },
            _ => throw new BadInputException("Give only one of --trace, --spot and --batch."),
        };
    }

    private static WarmthAsked OfTrace(string file, Crop crop, Duration maxGap)
    {
        var (samples, refused) = TraceFile.Read(file);
        return new(crop, TemperatureTrace.Of(samples, maxGap), null, "in " + Path.GetFileName(file), refused);
    }

    private static WarmthAsked OfBatch(Invocation invocation, string name)
    {
        var home = invocation.Home;
        var batch = home.RequireBatch(name);
        var when = new Interval(batch.SownAt, Instant.Max(batch.SownAt, batch.EndedAt ?? invocation.Now));
        var crop = invocation.Catalog.Require(batch.Crop.Text);
        return new(crop, home.TraceOf(batch, when), when, $"since {batch.Id} was sown", [])
        {
            Half = home.AtNow.Forecasts.HalfOf(batch, crop),
        };
    }

    private Crop Crop(Invocation invocation) => invocation.Parse.GetValue(crop) is { } name
        ? invocation.Catalog.Require(name)
        : throw new BadInputException("--crop is missing: warm-hours count above a crop's own base temperature.")
        {
            Hint = $"As in: chamber warmth --crop tomato --spot {invocation.Parse.GetValue(spot) ?? "boiler-top"}",
        };

    private WarmthAsked OfSpot(Invocation invocation, string name, Crop crop)
    {
        var home = invocation.Home;
        var found = home.RequireSpot(name);
        var from = invocation.Parse.GetValue(since) is { } told ? invocation.TimeOf(told) : invocation.Now - Home.HomeReader.SurveyLength;
        if (from >= invocation.Now)
        {
            throw new BadInputException($"--since {invocation.Parse.GetValue(since)} lies in the future.");
        }

        var when = new Interval(from, invocation.Now);
        var trace = home.Trace(found.Id, when);
        return trace.Span is { } span
            ? new(crop, trace, span, "on " + found.Id, [])
            {
                Half = home.AtNow.Forecasts.Knowledge.HalfOf(new CropQuestion(crop, 1).Kind),
            }
            : throw new BadInputException($"Nothing was measured on {found.Id} since {invocation.Show(from)}. Put a probe there: chamber "
                + $"probe move PROBE {found.Id}");
    }
}
