using Chamber.Service.Home.Writing;
using Chamber.Service.Web.Views;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Chamber.Service.Web.Api;

/// <summary>Work on a spot or in the home, while which only danger is reported.</summary>
internal static class MaintenanceRoutes
{
    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        reads.MapGet("/maintenance", (PageHome page) => HomeMaintenance.UnderWay(page.Read().Ledger, page.Now)).WithTags("Alerts")
            .WithName("Maintenance").WithSummary("Work under way, while which only danger is reported.");
        writes = writes.MapGroup("/maintenance").WithTags("Alerts").ProducesProblem(StatusCodes.Status404NotFound);
        writes.MapPut("", (PageHome page, MaintenanceRequest asked) => BeginAsync(page, asked)).WithName("BeginMaintenance")
            .WithSummary("Somebody works on a spot, or in the whole home, from now on: for 7 days at most.");
        writes.MapDelete("", (PageHome page, string? spot) => EndAsync(page, spot)).WithName("EndMaintenance")
            .WithSummary("The work on a spot, or in the whole home, is done.");
    }

    private static Task<IReadOnlyList<WorkAnswer>> BeginAsync(PageHome page, MaintenanceRequest asked) => page.WriteAsync((home, now) =>
    {
        new HomeMaintenance(home, now).Begin(asked.Spot, BadInputException.In("for", () => DurationText.Parse(asked.For)));
        return HomeMaintenance.UnderWay(home.Ledger, now);
    });

    private static async Task<NoContent> EndAsync(PageHome page, string? spot)
    {
        await page.WriteAsync((home, now) => new HomeMaintenance(home, now).End(spot));
        return TypedResults.NoContent();
    }
}

/// <summary>Work that begins now.</summary>
/// <param name="For">How long: 30min, 2h; 7d at most.</param>
/// <param name="Spot">On which spot; the whole home by default.</param>
internal sealed record MaintenanceRequest(string For, string? Spot = null);
