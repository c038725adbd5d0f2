using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Facts;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Writing;
using Chamber.Service.Photos;
using Chamber.Service.Reviews;
using Chamber.Service.Web.Views;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>Batches: from sowing to planted out, with forecasts, warm-hours and looks.</summary>
internal static class BatchRoutes
{
    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        reads.MapGet("/hindsight", (PageHome page) => HindsightAnswer.Of(page.Read().AtNow.Hindsight.All()))
            .WithTags("Batches").WithName("Hindsight")
                .WithSummary("How well forecasts did: what was predicted at sowing against what was seen, for every batch.");
        MapReads(reads.MapGroup("/batches").WithTags("Batches"));
        MapWrites(writes.MapGroup("/batches").WithTags("Batches"));
    }

    private static void MapReads(RouteGroupBuilder reads)
    {
        reads.MapGet("", (PageHome page, bool? all) => All(page, all ?? false)).WithName("Batches")
            .WithSummary("Batches under way with their forecasts; with all=true those that have ended too.")
            .ProducesProblem(StatusCodes.Status400BadRequest);
        var one = reads.MapGroup("/{batch}").ProducesProblem(StatusCodes.Status404NotFound);
        one.MapGet("", (PageHome page, string batch) => Whole(page, batch)).WithName("Batch")
            .WithSummary("One batch with everything that was written down of it.");
        one.MapGet("/forecast", (PageHome page, string batch) => Forecast(page, batch)).WithName("BatchForecast")
            .WithSummary("When it is up, as intervals; null while nothing can be said.");
        one.MapGet("/forecast-history", (PageHome page, string batch) => History(page, batch)).WithName("BatchForecastHistory")
            .WithSummary("Its forecast as it changed from day to day.");
        one.MapGet("/what-if", (PageHome page, string batch, string? spot, double? warmer) => WhatIf(page, batch, spot, warmer ?? 0))
            .WithName("BatchWhatIf").WithSummary("What would come of it on another spot, or on a warmer or cooler one; nothing is written.")
                .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status409Conflict);
        one.MapGet("/warm-hours", (PageHome page, string batch) => Warmth(page, batch)).WithName("BatchWarmHours")
            .WithSummary("Its warm-hours by day: measured, estimated, unknown.");
        one.MapGet("/readings", (PageHome page, string batch, int? points) => Readings(page, batch, points))
            .WithName("BatchReadings").WithSummary("The temperature that it had, wherever it stood, thinned to about so many points.")
                .ProducesProblem(StatusCodes.Status400BadRequest);
        one.MapGet("/review", (PageHome page, string batch) => ReviewAnswer.Of(Review(page, batch), [])).WithName("BatchReview")
            .WithSummary("Was it the seed, the spot, the water, or the grower?");
        one.MapGet("/review.html", async (PageHome page, PhotoShelf files, string batch) =>
            TypedResults.Content(await ReviewPage.OfAsync(Review(page, batch), page.Now, files), "text/html; charset=utf-8"))
            .WithName("BatchReviewPage").WithSummary("The same as one page to keep or to print.")
                .Produces<string>(StatusCodes.Status200OK, "text/html");
    }

    private static void MapWrites(RouteGroupBuilder writes)
    {
        writes.MapPost("", (PageHome page, SowRequest sowing) => SowAsync(page, sowing)).WithName("Sow")
            .WithSummary("Writes down a sowing.");
        var one = writes.MapGroup("/{batch}").ProducesProblem(StatusCodes.Status404NotFound);
        one.MapPost("/looks", (PageHome page, string batch, LookRequest look) => WriteAsync(page, batches => batches.Look(batch, look)))
            .WithName("Look").WithSummary("Somebody looked and counted; zero counts too.");
        one.MapDelete("/looks", (PageHome page, string batch, string at) => WriteAsync(page, batches => batches.TakeBackLook(batch, at)))
            .WithName("TakeBackLook").WithSummary("Takes a look out of the record: it was a mistake.");
        one.MapPost("/stages", (PageHome page, string batch, StageRequest stage) =>
            WriteAsync(page, batches => batches.Stage(batch, stage)))
            .WithName("Stage").WithSummary("Something was done: uncovered, to the light, pricked out, planted out.");
        one.MapPost("/losses", (PageHome page, string batch, LossRequest loss) => WriteAsync(page, batches => batches.Lose(batch, loss)))
            .WithName("Lose").WithSummary("Plants were lost, and what to.");
        one.MapDelete("/stages", (PageHome page, string batch, string at) =>
            WriteAsync(page, batches => batches.TakeBackStage(batch, At(page, at)))).WithName("TakeBackStage")
            .WithSummary("Takes what was done at a time out of the record: it was a mistake.");
        one.MapDelete("/losses", (PageHome page, string batch, string at) =>
            WriteAsync(page, batches => batches.TakeBackLoss(batch, At(page, at)))).WithName("TakeBackLoss")
            .WithSummary("Takes a loss out of the record: it was a mistake.");
        one.MapPost("/wettings", (PageHome page, string batch, MomentRequest? when) =>
            WriteAsync(page, batches => batches.Wet(batch, when ?? new()))).WithName("Wet").WithSummary("It was wetted again.");
        one.MapPost("/notes", (PageHome page, string batch, NoteRequest note) =>
            UpkeepRoutes.NoteAsync(page, () => OfBatch(page, batch), note))
            .WithName("NoteBatch").WithSummary("Keeps a note about it; nothing is counted.");
        one.MapPut("/limits", (PageHome page, string batch, LimitsRequest limits) =>
            UpkeepRoutes.LimitAsync(page, () => OfBatch(page, batch), limits)).WithName("LimitBatch")
            .WithSummary("When it is too hot or too cold for it, in place of the crop's own limits.");
        one.MapPut("/spot", (PageHome page, string batch, MoveRequest to) => WriteAsync(page, batches => batches.Move(batch, to)))
            .WithName("MoveBatch").WithSummary("It stands on another spot; its history stays with it.");
        one.MapPut("/plant-out", (PageHome page, string batch, PlantOutRequest on) =>
            WriteAsync(page, batches => batches.PlantOut(batch, on.Day))).WithName("PlantOut")
            .WithSummary("When it is to be planted out; reminders count back from it.");
        one.MapPost("/end", (PageHome page, string batch, MomentRequest? when) =>
            WriteAsync(page, batches => batches.End(batch, when ?? new())))
            .WithName("EndBatch").WithSummary("It is planted out, potted up or given up: nothing is watched after that.");
        one.MapDelete("/end", (PageHome page, string batch) => WriteAsync(page, batches => batches.Reopen(batch))).WithName("ReopenBatch")
            .WithSummary("Takes back that it has ended.");
        one.MapPost("/test-result", (PageHome page, string batch, TestCallRequest call) => SeedRoutes.CallAsync(page, batch, call))
            .WithName("CallTest").WithSummary("Calls a germination test that runs as this batch.");
    }

    private static FactSubject OfBatch(PageHome page, string name) => FactSubject.Of(page.Read().RequireBatch(name).Id);

    private static List<BatchAnswer> All(PageHome page, bool all)
    {
        var home = page.Read();
        var diagnoses = home.AtNow.Diagnoses;
        return [.. (all ? home.Ledger.Batches : home.Ledger.OpenBatches).Select(batch => BatchAnswer.Of(diagnoses.Of(batch)))];
    }

    private static BatchWhole Whole(PageHome page, string name)
    {
        var home = page.Read();
        return BatchWhole.Of(home, home.RequireBatch(name), home.Now);
    }

    private static BatchWhole Whole(PageHome page, Batch batch)
    {
        var home = page.Read();
        return BatchWhole.Of(home, batch, home.Now);
    }

    private static ForecastTimes? Forecast(PageHome page, string name)
    {
        var home = page.Read();
        return ForecastTimes.Of(home.AtNow.Diagnoses.Of(home.RequireBatch(name)));
    }

    private static IReadOnlyList<ForecastThen> History(PageHome page, string name)
    {
        var home = page.Read();
        return ForecastHistory.Of(home, home.RequireBatch(name), home.Now);
    }

    private static WhatIfAnswer? WhatIf(PageHome page, string name, string? spot, double warmer)
    {
        var home = page.Read();
        var to = spot is null ? (Core.Spots.SpotId?)null : BadInputException.In("spot", () => home.RequireSpot(spot)).Id;
        return new WhatIf(home, home.Now).Of(home.RequireBatch(name), to, warmer);
    }

    private static WarmthAnswer Warmth(PageHome page, string name)
    {
        var home = page.Read();
        var batch = home.RequireBatch(name);
        var crop = home.Catalog.Require(batch.Crop.Text);
        var when = Lifetime(batch, page.Now);
        var trace = home.TraceOf(batch, when);
        return WarmthAnswer.Of(new(crop, trace, when, $"since {batch.Id} was sown", []),
            WarmthFold.Over(trace, when, crop.Limits, home.Zone, HourOfDayProfile.From(trace, home.Zone)));
    }

    private static SeriesAnswer Readings(PageHome page, string name, int? points)
    {
        var home = page.Read();
        var batch = home.RequireBatch(name);
        var when = Lifetime(batch, page.Now);
        return TemperatureSeries.Of(home.ThinnedOf(batch, when, TemperatureSeries.Parts(SpotRoutes.Points(points))), when);
    }

    private static BatchReview Review(PageHome page, string name)
    {
        var home = page.Read();
        return new HomeReviews(home, home.Now, page.Scale).Of(home.RequireBatch(name));
    }

    private static Instant At(PageHome page, string at) => BadInputException.In("at", () => page.Read().TimeOf(at, page.Now));

    private static Interval Lifetime(Batch batch, Instant now) => new(batch.SownAt, Instant.Max(batch.SownAt, batch.EndedAt ?? now));

    private static async Task<Created<BatchWhole>> SowAsync(PageHome page, SowRequest sowing)
    {
        var batch = await page.WriteAsync((home, now) => new HomeBatches(home, now).Sow(sowing));
        return TypedResults.Created($"/api/batches/{batch.Id}", await page.AskAsync(() => Whole(page, batch)));
    }

    private static async Task<BatchWhole> WriteAsync(PageHome page, Func<HomeBatches, Batch> write)
    {
        var batch = await page.WriteAsync((home, now) => write(new(home, now)));
        return await page.AskAsync(() => Whole(page, batch));
    }
}

/// <summary>A day for planting out.</summary>
/// <param name="Day">The day, as 2027-05-17.</param>
internal sealed record PlantOutRequest(LocalDate Day);
