using Chamber.Service.Home;
using Chamber.Service.Web.Views;

namespace Chamber.Service.Web.Api;

/// <summary>The catalogue of cautions.</summary>
internal static class CautionRoutes
{
    public static void Map(RouteGroupBuilder reads)
    {
        reads = reads.MapGroup("/cautions").WithTags("Cautions");
        reads.MapGet("", (PageHome page) => All(page)).WithName("Cautions")
            .WithSummary("Every caution in one line and in full, when it is shown and where it comes from.");
        reads.MapGet("/{caution}", (PageHome page, string caution) =>
            CautionAnswer.Of(HomeCautions.Require(HomeCautions.All(page.Read().Catalog), caution)))
            .WithName("Caution").WithSummary("One caution by its name.").ProducesProblem(StatusCodes.Status404NotFound);
    }

    private static List<CautionAnswer> All(PageHome page) => [.. HomeCautions.All(page.Read().Catalog).Select(CautionAnswer.Of)];
}
