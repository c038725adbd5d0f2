using Chamber.Core.Facts;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Writing;
using Chamber.Service.Web.Views;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>Spots: how they are, what suits them, their temperature.</summary>
internal static class SpotRoutes
{
    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        reads = reads.MapGroup("/spots").WithTags("Spots");
        writes = writes.MapGroup("/spots").WithTags("Spots");
        reads.MapGet("", (PageHome page) => All(page)).WithName("Spots").WithSummary("Every spot as it is now.");
        reads.MapGet("/{spot}", (PageHome page, string spot) => One(page, spot))
            .WithName("Spot").WithSummary("One spot as it is now.").ProducesProblem(StatusCodes.Status404NotFound);
        reads.MapGet("/{spot}/crops", (PageHome page, string spot) => Crops(page, spot))
            .WithName("CropsForSpot").WithSummary("How well each crop suits a spot, best first, with the reason.")
                .ProducesProblem(StatusCodes.Status404NotFound);
        reads.MapGet("/{spot}/readings", (PageHome page, string spot, string? from, string? to, int? points) =>
            Readings(page, spot, from, to, points))
            .WithName("SpotReadings").WithSummary("The temperature of a spot over time, thinned to about so many points.")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        writes.MapPut("/{spot}", (PageHome page, string spot, SpotRequest asked) => SaveAsync(page, spot, asked)).WithName("SaveSpot")
            .WithSummary("Adds a spot, or changes the one of this name.");
        writes.MapPost("/{spot}/notes", (PageHome page, string spot, NoteRequest note) =>
            UpkeepRoutes.NoteAsync(page, () => Of(page, spot), note))
            .WithName("NoteSpot").WithSummary("Keeps a note about a spot; nothing is counted.")
                .ProducesProblem(StatusCodes.Status404NotFound);
        writes.MapPost("/{spot}/wettings", (PageHome page, string spot, MomentRequest? when) =>
            UpkeepRoutes.WaterAsync(page, () => Of(page, spot), when ?? new())).WithName("WetSpot")
            .WithSummary("All that stands there was watered.").ProducesProblem(StatusCodes.Status404NotFound);
        writes.MapPut("/{spot}/limits", (PageHome page, string spot, LimitsRequest limits) =>
            UpkeepRoutes.LimitAsync(page, () => Of(page, spot), limits)).WithName("LimitSpot")
            .WithSummary("When it is too hot or too cold for whatever stands there, in place of the crops' own limits.")
            .ProducesProblem(StatusCodes.Status404NotFound);
        writes.MapDelete("/{spot}", (PageHome page, string spot) => RemoveAsync(page, spot))
            .WithName("RemoveSpot").WithSummary("Takes away a spot that nothing has ever stood on.")
                .ProducesProblem(StatusCodes.Status404NotFound);
    }

    /// <summary>From when to when; the last day by default.</summary>
    public static Interval Span(PageHome page, string? from, string? to, Duration unlessTold)
    {
        var home = page.Read();
        var end = home.TimeOf(to, page.Now, "to");
        var start = from is null ? end - unlessTold : home.TimeOf(from, page.Now, "from");
        return start < end ? new(start, end) : throw BadInputException.In("from", "from lies after to: take the earlier time first.");
    }

    public static int Points(int? points) =>
        BadInputException.In("points", () => Core.Bounds.ChartPoints.Require(points ?? TemperatureSeries.DefaultPoints));

    private static FactSubject Of(PageHome page, string name) => FactSubject.Of(page.Read().RequireSpot(name).Id);

    private static List<SpotNowAnswer> All(PageHome page)
    {
        var home = page.Read();
        return [.. home.Surveys(home.Now).Select(spot => SpotNowAnswer.Of(home, spot))];
    }

    private static SpotNowAnswer One(PageHome page, string name)
    {
        var home = page.Read();
        var spot = home.RequireSpot(name);
        return SpotNowAnswer.Of(home, new(spot, home.Survey(spot.Id, home.Now)));
    }

    private static List<RankingAnswer> Crops(PageHome page, string name)
    {
        var home = page.Read();
        var spot = home.RequireSpot(name);
        return [.. HomeRankings.ForSpot(home, new(spot, home.Survey(spot.Id, home.Now))).Select(RankingAnswer.Of)];
    }

    private static SeriesAnswer Readings(PageHome page, string name, string? from, string? to, int? points)
    {
        var home = page.Read();
        var spot = home.RequireSpot(name);
        var when = Span(page, from, to, Duration.FromDays(1));
        return TemperatureSeries.Of(home.Thinned(spot.Id, when, TemperatureSeries.Parts(Points(points))), when);
    }

    private static async Task<SpotSaved> SaveAsync(PageHome page, string name, SpotRequest asked)
    {
        var id = BadInputException.In("spot", () => new SpotId(name));
        var spot = await page.WriteAsync((home, now) => new HomeSpots(home, now).Save(id, asked));
        return await page.AskAsync(() => SpotSaved.Of(spot, HomeWarnings.OfSpot(page.Read(), id)));
    }

    private static async Task<NoContent> RemoveAsync(PageHome page, string name)
    {
        await page.WriteAsync((home, now) => new HomeSpots(home, now).Remove(name));
        return TypedResults.NoContent();
    }
}
