using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts.BeforeSowing;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Writing;
using Chamber.Service.Web.Views;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>Crops: their numbers, their best spots, forecasts and warm-hours before anything is sown.</summary>
internal static class CropRoutes
{
    private const int DefaultSeeds = 12;

    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        reads = reads.MapGroup("/crops").WithTags("Crops");
        writes = writes.MapGroup("/crops").WithTags("Crops");
        reads.MapGet("", (PageHome page, bool? own) => All(page, own ?? false))
            .WithName("Crops")
                .WithSummary("Every crop with its numbers and their sources; with own=true those that people here have changed or added.")
                .ProducesProblem(StatusCodes.Status400BadRequest);
        writes.MapPut("/{crop}", (PageHome page, string crop, OwnBandRequest band) => SaveAsync(page, crop, band))
            .WithName("SaveCrop").WithSummary("Keeps an ideal band of your own for a crop, or for a new one that is like a known one.");
        writes.MapDelete("/{crop}", (PageHome page, string crop) => ForgetAsync(page, crop))
            .WithName("ForgetCrop").WithSummary("Forgets your own numbers for a crop; one that you added goes with them.")
                .ProducesProblem(StatusCodes.Status404NotFound);
        reads.MapGet("/{crop}", (PageHome page, string crop) => CropAnswer.Of(Require(page.Read(), crop)))
            .WithName("Crop").WithSummary("One crop, by any of its names.").ProducesProblem(StatusCodes.Status404NotFound);
        reads.MapGet("/{crop}/spots", (PageHome page, string crop) => Spots(page, crop))
            .WithName("SpotsForCrop").WithSummary("The spots ranked for a crop, best first: suitability, confidence and the reason.")
                .ProducesProblem(StatusCodes.Status404NotFound);
        reads.MapGet("/{crop}/forecast", (PageHome page, string crop, string? at, string? spot, int? seeds, string? method,
                double? depth) => Forecast(page, crop, new(at, spot, seeds, method, depth)))
            .WithName("CropForecast")
                .WithSummary("When seed would be up and how many, at a steady temperature (at=20C) or sown now on a spot.")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound)
                .ProducesProblem(StatusCodes.Status409Conflict);
        reads.MapGet("/{crop}/warm-hours", (PageHome page, string crop, string spot, string? since) => Warmth(page, crop, spot, since))
            .WithName("CropWarmHours").WithSummary("Warm-hours of a crop on a spot, by day; the last 14 days by default.")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound)
                .ProducesProblem(StatusCodes.Status409Conflict);
    }

    private static List<CropAnswer> All(PageHome page, bool own)
    {
        var home = page.Read();
        return [.. home.Catalog.Crops.Where(crop => !own || OwnCrops.Are(home, crop.Id)).Select(CropAnswer.Of)];
    }

    private static async Task<CropAnswer> SaveAsync(PageHome page, string crop, OwnBandRequest band)
    {
        var id = BadInputException.In("crop", () => new CropId(crop));
        await page.WriteAsync((home, _) => OwnCrops.SaveBand(home, id, Like(home, id, band.Like), band.Low, band.High,
            band.Source ?? string.Empty, band.Poisonous));
        return await page.AskAsync(() => CropAnswer.Of(Require(page.Read(), crop)));
    }

    private static CropId Like(HomeReader home, CropId crop, string? like)
    {
        try
        {
            return home.Catalog.Require(like ?? crop.Text).Id;
        }
        catch (UnknownCropException problem)
        {
            throw BadInputException.In("like", like is null
                ? $"\"{crop}\" is not in the crop catalog: to add it, name in like a crop that it is like." : problem.Message);
        }
    }

    private static async Task<NoContent> ForgetAsync(PageHome page, string crop)
    {
        await page.WriteAsync((home, _) => OwnCrops.Forget(home, Core.Identifier.IsValid(crop) ? new(crop)
            : throw BadInputException.Unknown($"There is no crop \"{crop}\" of your own.")));
        return TypedResults.NoContent();
    }

    private static Crop Require(HomeReader home, string name) =>
        home.Catalog.Find(name) ?? throw BadInputException.Unknown(Refusal(home, name));

    private static string Refusal(HomeReader home, string name)
    {
        try
        {
            return home.Catalog.Require(name).CommonName;
        }
        catch (UnknownCropException problem)
        {
            return problem.Message;
        }
    }

    private static List<RankingAnswer> Spots(PageHome page, string name)
    {
        var home = page.Read();
        var crop = Require(home, name);
        return [.. HomeRankings.ForCrop(home, crop, home.Surveys(home.Now)).Select(RankingAnswer.Of)];
    }

    private static ForecastAnswer Forecast(PageHome page, string name, ForecastAsked asked)
    {
        var home = page.Read();
        var count = asked.Seeds ?? DefaultSeeds;
        var question = new CropQuestion(Require(home, name), BadInputException.In("seeds", () => Core.Bounds.Seeds.Require(count)));
        if (asked.Depth is { } depth)
        {
            question = question with { DepthMillimetres = BadInputException.In("depth", () => Core.Bounds.Depth.Require(depth)) };
        }

        if (asked.Method is { } method)
        {
            question = question with { Method = BadInputException.In("method", () => Choice.Parse<SowingMethod>(method)) };
        }

        return (asked.At, asked.Spot) switch
        {
            ({ } steady, null) =>
                ForecastAnswer.Of(home.AtNow.Forecasts.Here(question),
                home.AtNow.Forecasts.AtSteady(question, BadInputException.In("at", () => TemperatureText.Parse(steady)))),
            (null, { } chosen) => ForecastAnswer.Of(home.AtNow.Forecasts.Here(question), SpotForecast.Of(home, home.Now, question, chosen)),
            _ => throw BadInputException.In("at", "Say where: at=20C, or spot with the name of one, and not both."),
        };
    }

    /// <summary>What a forecast is asked.</summary>
    private readonly record struct ForecastAsked(string? At, string? Spot, int? Seeds, string? Method, double? Depth);

    private static WarmthAnswer Warmth(PageHome page, string name, string spot, string? since)
    {
        var home = page.Read();
        var crop = Require(home, name);
        var chosen = BadInputException.In("spot", () => home.RequireSpot(spot));
        var when = new Interval(since is null ? page.Now - HomeReader.SurveyLength
            : home.PastOf(since, page.Now, "since"), page.Now);
        var trace = home.Trace(chosen.Id, when);
        return trace.Span is { } span
            ? WarmthAnswer.Of(new(crop, trace, span, "on " + chosen.Id, []),
                WarmthFold.Over(trace, span, crop.Limits, home.Zone, HourOfDayProfile.From(trace, home.Zone)))
            : throw BadInputException.Contradicts($"Nothing was measured on {chosen.Id} since {page.Show(when.Start)}.", "spot");
    }
}

/// <summary>An ideal band of one's own.</summary>
/// <param name="Low">Where it begins, with its unit: 24C or 75F.</param>
/// <param name="High">Where it ends.</param>
/// <param name="Like">For a new crop, the known one that it is like.</param>
/// <param name="Source">Where the numbers come from.</param>
/// <param name="Poisonous">Of a crop of your own: "no", or which part is poisonous and how.</param>
internal sealed record OwnBandRequest(string Low, string High, string? Like = null, string? Source = null, string? Poisonous = null);
