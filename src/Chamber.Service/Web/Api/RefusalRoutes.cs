using Chamber.Core.Climate;
using Chamber.Service.Home.Answers;
using Chamber.Service.Web.Views;

namespace Chamber.Service.Web.Api;

/// <summary>What came in and was not used.</summary>
internal static class RefusalRoutes
{
    private const int DefaultRefusals = 20;

    public static void Map(RouteGroupBuilder owned)
    {
        owned = owned.MapGroup(string.Empty).WithTags("Service");
        owned.MapGet("/refusals", (PageHome page, string? probe, int? last) => Refusals(page, probe, last ?? DefaultRefusals))
            .WithName("Refusals")
                .WithSummary("What came in and was not used: how often for each reason, and the newest as they came, with what to do.")
                .ProducesProblem(StatusCodes.Status400BadRequest);
    }

    private static RefusalsAnswer Refusals(PageHome page, string? probe, int last) => RefusalsAnswer.Of(
        page.Read().Records,
        probe is null ? null : BadInputException.In("probe", () => (ProbeId?)new ProbeId(probe)),
        BadInputException.In("last", () => Core.Bounds.RefusalsShown.Require(last)));
}
