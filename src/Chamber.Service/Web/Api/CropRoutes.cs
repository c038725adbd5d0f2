using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Spots;
using Chamber.Service.Commands;
using Chamber.Service.Home;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>Crops: their numbers, their best spots, forecasts and warm-hours before anything is sown.</summary>
internal static class CropRoutes
{
    private const int SeedsUnlessTold = 12;

    public static void Map(RouteGroupBuilder reads)
    {
        reads = reads.MapGroup("/crops").WithTags("Crops");
        reads.MapGet("", (PageHome page) => page.Read().Catalog.Crops.Select(CropAnswer.Of)).WithName("Crops").WithSummary("Every crop with its numbers and their sources.");
        reads.MapGet("/{crop}", (PageHome page, string crop) => CropAnswer.Of(Require(page.Read(), crop)))
            .WithName("Crop").WithSummary("One crop, by any of its names.").ProducesProblem(StatusCodes.Status404NotFound);
        reads.MapGet("/{crop}/spots", (PageHome page, string crop) => Spots(page, crop))
            .WithName("SpotsForCrop").WithSummary("The spots ranked for a crop, best first: suitability, confidence and the reason.").ProducesProblem(StatusCodes.Status404NotFound);
        reads.MapGet("/{crop}/forecast", (PageHome page, string crop, string? at, string? spot, int? seeds, string? method) => Forecast(page, crop, at, spot, seeds, method))
            .WithName("CropForecast").WithSummary("When seed would be up and how many, at a steady temperature (at=20C) or sown now on a spot.")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status409Conflict);
        reads.MapGet("/{crop}/warm-hours", (PageHome page, string crop, string spot, string? since) => Warmth(page, crop, spot, since))
            .WithName("CropWarmHours").WithSummary("Warm-hours of a crop on a spot, by day; the last 14 days unless told.")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status409Conflict);
    }

    private static Crop Require(HomeReader home, string name) => home.Catalog.Find(name) ?? throw BadInputException.Unknown(Refusal(home, name));

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
        return [.. SpotRanking.ForCrop(crop, home.Surveys(page.Now), HomeReader.FixedRandom()).Select(RankingAnswer.Of)];
    }

    private static ForecastAnswer Forecast(PageHome page, string name, string? at, string? spot, int? seeds, string? method)
    {
        var home = page.Read();
        var count = seeds ?? SeedsUnlessTold;
        var question = new CropQuestion(Require(home, name), count is >= 1 and <= 100_000 ? count : throw BadInputException.In("seeds", $"seeds: write a number from 1 to 100000, not {count}."));
        if (method is not null)
        {
            question = question with { Method = BadInputException.In("method", () => Choice.Parse<SowingMethod>(method)) };
        }

        return (at, spot) switch
        {
            ({ } steady, null) => ForecastAnswer.Of(question.Crop, CropForecast.AtSteady(question, BadInputException.In("at", () => TemperatureText.Parse(steady)))),
            (null, { } place) => ForecastAnswer.Of(question.Crop, SpotForecast.Of(home, page.Now, question, place)),
            _ => throw BadInputException.In("at", "Say where: at=20C, or spot with the name of one, and not both."),
        };
    }

    private static WarmthAnswer Warmth(PageHome page, string name, string spot, string? since)
    {
        var home = page.Read();
        var crop = Require(home, name);
        var place = BadInputException.In("spot", () => home.RequireSpot(spot));
        var when = new Interval(since is null ? page.Now - HomeReader.SurveyLength : BadInputException.In("since", () => home.PastOf(since, page.Now)), page.Now);
        var trace = home.Trace(place.Id, when);
        return trace.Span is { } span
            ? WarmthAnswer.Of(new(crop, trace, span, "on " + place.Id, []), WarmthFold.Over(trace, span, crop.Limits, home.Zone, HourOfDayProfile.From(trace, home.Zone)))
            : throw BadInputException.Contradicts($"Nothing was measured on {place.Id} since {page.Show(when.Start)}.", "spot");
    }
}
