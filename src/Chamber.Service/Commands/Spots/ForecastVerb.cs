using System.CommandLine;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.BeforeSowing;
using Chamber.Core.Needs;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using Chamber.Service.Import;

namespace Chamber.Service.Commands.Spots;

/// <summary>When a crop would be up and how many: at a steady temperature, along a recorded or planned one, or on a spot.</summary>
internal static class ForecastVerb
{
    public static Verb Create()
    {
        var options = new ForecastOptions();
        var verb = new Verb(
            "forecast",
            "Says when seed would be up and how much of it: on your spots, at a temperature, or along a recorded one.",
            "chamber forecast --crop tomato --at 20C --seeds 12",
            "chamber forecast --crop basil --spot boiler-top --seeds 20",
            "chamber forecast basil",
            "chamber forecast --lot tomato-24 --spot boiler-top",
            "chamber forecast --crop tomato --trace shelf.csv --json");
        options.AddTo(verb);
        return verb.LooksBack().Does(invocation =>
        {
            var question = options.Question(invocation);
            if (options.IsEverywhere(invocation))
            {
                SpotForecasts.Show(invocation, question);
                return;
            }

            var forecast = options.Answer(invocation, question, out var where);
            var answer = ForecastAnswer.Of(question, forecast);
            var slow = forecast.NoneBecause == CauseKind.TooCold ? options.SteadyDays(invocation, question.Crop) : null;
            invocation.Answer(answer, screen => Show(screen, question, forecast, where, slow));
        });
    }

    internal static void ShowTimes(Screen screen, EmergenceForecast forecast, int seeds)
    {
        if (forecast.NoneLikely)
        {
            screen.Facts([("How many", $"0 of {seeds}, 9 times in 10")]);
            return;
        }

        screen.Facts(
        [
            ("First up", Days(forecast.First)),
            ("Half up", Days(forecast.Half)),
            ("Nine in ten up", Days(forecast.Most)),
            ("How many", RangeText.Counts(forecast.StandLow, forecast.StandHigh, seeds)),
            ("Stop waiting",
                forecast.Stop.After is { } stop ? $"after {RangeText.Day(stop.TotalDays)} days with nothing up" : "not in sight"),
        ]);
    }

    private static void Show(Screen screen, CropQuestion question, EmergenceForecast forecast, string where, double? slow)
    {
        screen.Headline(forecast is { NoneLikely: false, Half.Mid: { } half }
            ? $"{PlainText.Capital(question.Crop.CommonName)} {where}: half up after {RangeText.Day(half.TotalDays)} days."
            : $"{PlainText.Capital(question.Crop.CommonName)} {where}: {None(forecast.NoneBecause)}.");
        ShowChill(screen, forecast.Chill);
        screen.Say();
        ShowTimes(screen, forecast, question.Seeds);
        if (slow is { } days)
        {
            screen.Aside($"By its warmth alone half would be up after {RangeText.Day(days)} days: longer than seed lasts in cold wet mix, "
                + $"or colder than it has been seen to come up.");
        }

        screen.Say();
        screen.Aside($"Up means that the {(forecast.Event == EmergenceEvent.RootSeen ? "root" : "shoot")} is seen. Eight in ten such "
            + $"sowings fall within these ranges.");
        if (question.Crop.Profile.Tried is { } tried)
        {
            screen.Aside($"{question.Crop.CommonName} was tried from {screen.Show(tried.Low)} to {screen.Show(tried.High)}; beyond that "
                + $"the days are a guess, and the ranges grow.");
        }

        screen.Aside(KnowledgeWords.Of(question));
        screen.Aside($"Where the numbers come from: chamber crops {question.Crop.Id} --sources");
    }

    private static void ShowChill(Screen screen, ChillState? chill)
    {
        if (chill is { IsUnderWay: true })
        {
            screen.Say($"The first {chill.Need.EnoughDays} of these days it is chilled, moist, in a refrigerator; then it comes into the "
                + $"warmth. Without the chill about {RangeText.Percent(chill.Need.Without ?? 1)} of sound seed comes up.");
        }
        else if (chill is not null)
        {
            screen.Say($"{chill.Need.EnoughDays} days of moist chill first would help; they are not reckoned with here.");
        }
    }

    internal static string None(CauseKind? reason) => reason switch
    {
        CauseKind.TooCold => "too cold: it would rot first",
        CauseKind.TooHot => "too hot: it would not come up",
        _ => "it would not come up",
    };

    internal static string Days(TimeEstimate time) => (time.Low, time.Mid, time.High) switch
    {
        ({ } low, { } mid, { } high) => RangeText.Days(low.TotalDays, mid.TotalDays, high.TotalDays),
        ({ } low, { } mid, _) => $"{RangeText.Day(mid.TotalDays)} days, likely {RangeText.Day(low.TotalDays)} or more",
        ({ } low, _, _) => $"{RangeText.Day(low.TotalDays)} days or more",
        _ => "not in ten years",
    };
}

/// <summary>What <c>forecast</c> is asked.</summary>
internal sealed class ForecastOptions
{
    private readonly Option<string?> crop = new("--crop") { HelpName = "CROP", Description = "Which crop, by any of its names." };
    private readonly Option<string?> lot = new("--lot") { HelpName = "LOT",
        Description = "Instead, one of your lots: its age, tests and batches count." };
    private readonly Option<Temperature?> at = Typed.Option<Temperature?>("--at", "TEMPERATURE",
        "A steady temperature with its unit: 20C or 68F. Without any of the three: on each of your spots.",
        text => TemperatureText.Parse(text));
    private readonly Option<string?> trace = new("--trace") { HelpName = "FILE",
        Description = "Instead, a recorded or planned temperature: CSV with columns at,temperature (RFC 3339, °C)." };
    private readonly Option<string?> spot = new("--spot") { HelpName = "SPOT", Description = "Instead, one of your spots, sown now." };
    private readonly Option<int> seeds = new("--seeds") { HelpName = "N", DefaultValueFactory = _ => 12, Description = "How many seeds." };
    private readonly Option<SowingMethod?> method = Typed.Option<SowingMethod?>("--method", "METHOD",
        "covered-mix, open-mix or damp-towel. Default: the crop's usual one.", text => Choice.Parse<SowingMethod>(text));

    private readonly Option<double?> depth = Typed.Option<double?>("--depth", "MM",
        "Millimetres of mix above the seed. Default: the crop's usual depth.", text => DepthText.Parse(text));

    public void AddTo(Command verb)
    {
        verb.Add(crop);
        verb.Add(lot);
        verb.Add(at);
        verb.Add(trace);
        verb.Add(spot);
        verb.Add(seeds);
        verb.Add(method);
        verb.Add(depth);
    }

    /// <summary>What is asked, with what this home knows, where there is one.</summary>
    public CropQuestion Question(Invocation invocation)
    {
        var parse = invocation.Parse;
        var count = BadInputException.In("seeds", () => Core.Bounds.Seeds.Require(parse.GetValue(seeds)));
        var own = parse.GetValue(lot) is { } name ? invocation.Home.AtNow.Seeds.Require(name) : null;
        var question = new CropQuestion(Crop(invocation, own), count) { Lot = own?.Lot.Id, DepthMillimetres = parse.GetValue(depth) };
        if (parse.GetValue(method) is { } told)
        {
            question = question with { Method = told };
        }

        // Nothing is known where nothing was ever written down, and then no file is made for a question.
        return File.Exists(invocation.Data.Database) || File.Exists(invocation.Data.Experience)
            ? invocation.Home.AtNow.Forecasts.Here(question) : question;
    }

    private Crop Crop(Invocation invocation, LotState? own)
    {
        var named = invocation.Parse.GetValue(crop) is { } name ? invocation.Catalog.Require(name) : null;
        return named is not null && own is not null && named.Id != own.Crop.Id
            ? throw new BadInputException($"Lot {own.Lot.Id} is {own.Crop.CommonName}, and not {named.CommonName}: leave out --crop.")
            : own?.Crop ?? named ?? throw new BadInputException("Say what: --crop with a crop, or --lot with one of your lots.")
            {
                Hint = invocation.Parse.GetValue(spot) is { } there ? $"Every crop there: chamber spots --spot {there}"
                    : "As in: chamber forecast --crop tomato --at 22C",
            };
    }

    /// <summary>Whether no place is named in a home that has spots: then it is asked of each.</summary>
    public bool IsEverywhere(Invocation invocation) => invocation.Parse.GetValue(at) is null && invocation.Parse.GetValue(trace) is null
        && invocation.Parse.GetValue(spot) is null && File.Exists(invocation.Data.Database) && invocation.Home.Spots().Count > 0;

    /// <summary>Days to half by warm-hours alone, at the steady temperature that was asked for; null without one, or where there is no
    /// progress.</summary>
    public double? SteadyDays(Invocation invocation, Crop crop) =>
        invocation.Parse.GetValue(at) is { } steady ? crop.Profile.DaysToHalf(steady) : null;

    public EmergenceForecast Answer(Invocation invocation, CropQuestion question, out string where)
    {
        var parse = invocation.Parse;
        switch (parse.GetValue(at), parse.GetValue(trace), parse.GetValue(spot))
        {
            case ({ } steady, null, null):
                where = "at " + invocation.Screen.Show(steady);
                return CropForecast.AtSteady(question, steady);
            case (null, { } file, null):
                where = "along " + Path.GetFileName(file);
                var samples = TraceFile.Read(file).Samples;
                return CropForecast.Along(question, [.. samples.OrderBy(sample => sample.At).DistinctBy(sample => sample.At)]);
            case (null, null, { } name):
                where = "on " + name;
                return SpotForecast.Of(invocation.Home, invocation.Now, question, name);
            case (null, null, null):
                throw new BadInputException("Say where: --at 20C, --trace FILE.csv or --spot NAME.") { Hint =
                    $"As in: chamber forecast --crop {question.Crop.Id} --at 22C" };
            default:
                throw new BadInputException("Give only one of --at, --trace and --spot.");
        }
    }
}
