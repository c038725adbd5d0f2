using Chamber.Core.Seeds;
using Chamber.Core.Statistics;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Writing;
using Chamber.Service.Web.Views;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Chamber.Service.Web.Api;

/// <summary>Seed: lots and their tests.</summary>
internal static class SeedRoutes
{
    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        reads = reads.MapGroup("/lots").WithTags("Seeds");
        writes = writes.MapGroup("/lots").WithTags("Seeds");
        reads.MapGet("", (PageHome page) => All(page)).WithName("Lots")
            .WithSummary("Every lot of seed, first the one to use first.");
        reads.MapGet("/{lot}", (PageHome page, string lot) => One(page, lot)).WithName("Lot").WithSummary("One lot.")
            .ProducesProblem(StatusCodes.Status404NotFound);
        reads.MapGet("/{lot}/test-plan", (PageHome page, string lot, string? question) => Plan(page, lot, question))
            .WithName("PlanTest").WithSummary("How many seeds to lay out for a germination test, how, and when to call it.")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        writes.MapPut("/{lot}", (PageHome page, string lot, LotRequest asked) => SaveAsync(page, lot, asked)).WithName("SaveLot")
            .WithSummary("Adds a lot, or changes the one of this name.");
        var one = writes.MapGroup("/{lot}").ProducesProblem(StatusCodes.Status404NotFound);
        one.MapDelete("", (PageHome page, string lot) => RemoveAsync(page, lot)).WithName("RemoveLot")
            .WithSummary("Takes out a lot that nothing was sown from.");
        one.MapPost("/count", (PageHome page, string lot, CountRequest counted) =>
            page.WriteAsync((home, now) => LotAnswer.Of(new HomeLots(home, now).Count(lot, counted))))
            .WithName("CountLot").WithSummary("How many seeds there are now; what is sown from now on is taken off.");
        one.MapPost("/tests", (PageHome page, string lot, TestRecordRequest test) =>
            ResultAsync(page, lots => lots.RecordTest(lot, test)))
            .WithName("RecordTest").WithSummary("Writes down a test that was done without Chamber.");
        one.MapPost("/running-tests", (PageHome page, string lot, TestStartRequest test) => StartAsync(page, lot, test))
            .WithName("StartTest").WithSummary("Starts a test on a towel; look at it like at any batch.");
    }

    public static Task<TestResultAnswer> CallAsync(PageHome page, string batch, TestCallRequest call) =>
        ResultAsync(page, lots => lots.CallTest(batch, call));

    private static List<LotAnswer> All(PageHome page) => [.. page.Read().AtNow.Seeds.All().Select(LotAnswer.Of)];

    private static LotAnswer One(PageHome page, string name) => LotAnswer.Of(page.Read().AtNow.Seeds.Require(name));

    private static HomeTest Plan(PageHome page, string name, string? question)
    {
        var lot = page.Read().AtNow.Seeds.Require(name);
        return HomeTest.Plan(lot.Crop, question is null ? TestQuestion.Rate
            : BadInputException.In("question", () => Choice.Parse<TestQuestion>(question)), lot.SeedsLeft, lot.Lot.Treated);
    }

    private static Task<LotAnswer> SaveAsync(PageHome page, string name, LotRequest asked)
    {
        var id = BadInputException.In("lot", () => new LotId(name));
        return page.WriteAsync((home, now) => LotAnswer.Of(new HomeLots(home, now).Save(id, asked)));
    }

    private static async Task<NoContent> RemoveAsync(PageHome page, string name)
    {
        await page.WriteAsync((home, now) => new HomeLots(home, now).Remove(name));
        return TypedResults.NoContent();
    }

    private static async Task<Created<TestStarted>> StartAsync(PageHome page, string lot, TestStartRequest test)
    {
        var started = await page.WriteAsync((home, now) => new HomeLots(home, now).StartTest(lot, test));
        return TypedResults.Created($"/api/batches/{started.Batch}", started);
    }

    private static async Task<TestResultAnswer> ResultAsync(PageHome page, Func<HomeLots, TestResult> write)
    {
        var test = await page.WriteAsync((home, now) => write(new(home, now)));
        return await page.AskAsync(() => Result(page, test));
    }

    private static TestResultAnswer Result(PageHome page, TestResult test) => new(
        test.Lot,
        test.Good,
        test.Seeds,
        HomeTest.Result(new(test.Good, test.Seeds)),
        test.Fair?.Verdict,
        test.Fair?.Because,
        page.Read().AtNow.Seeds.Require(test.Lot.Text).Belief.Share.Interval(),
        test.Warnings);
}

/// <summary>A test with what it proves.</summary>
/// <param name="Lot">Which lot.</param>
/// <param name="Good">How many were good.</param>
/// <param name="Seeds">Of how many.</param>
/// <param name="Share">The true share, 95 % interval.</param>
/// <param name="Fairness">Whether the conditions were fair; null for a test done elsewhere.</param>
/// <param name="Because">Why.</param>
/// <param name="Germination">What is believed of the lot now, 80 % interval.</param>
/// <param name="Warnings">What is odd about it, a sentence each.</param>
internal sealed record TestResultAnswer(LotId Lot, int Good, int Seeds, ShareInterval Share, Fairness? Fairness, string? Because,
    ShareInterval Germination, IReadOnlyList<string> Warnings);
