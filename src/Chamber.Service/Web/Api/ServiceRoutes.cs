using Chamber.Core.Climate;
using Chamber.Service.Health;
using Chamber.Service.Home.Answers;
using Chamber.Service.Web.Views;

namespace Chamber.Service.Web.Api;

/// <summary>The service about itself.</summary>
internal static class ServiceRoutes
{
    private const int DefaultRefusals = 20;

    public static void Map(RouteGroupBuilder owned, RouteGroupBuilder writes)
    {
        owned = owned.MapGroup(string.Empty).WithTags("Service");
        writes = writes.MapGroup(string.Empty).WithTags("Service");
        owned.MapGet("/service", (PageHome page, Func<BrokerState> broker) => ServiceState.Of(page, broker())).WithName("Service")
            .WithSummary("What the service knows about itself: version, data, readings, broker.");
        owned.MapGet("/refusals", (PageHome page, string? probe, int? last) => Refusals(page, probe, last ?? DefaultRefusals))
            .WithName("Refusals")
                .WithSummary("What came in and was not used: how often for each reason, and the newest as they came, with what to do.")
                .ProducesProblem(StatusCodes.Status400BadRequest);
        writes.MapPost("/service/stop", (IHostApplicationLifetime life) =>
        {
            life.StopApplication();
            return TypedResults.Accepted((string?)null);
        }).WithName("StopService")
            .WithSummary("Stops the service, so that a backup that waits is brought back when it starts next. A service manager may start "
            + "it again by itself.");
    }

    private static RefusalsAnswer Refusals(PageHome page, string? probe, int last) => RefusalsAnswer.Of(
        page.Read().Records,
        probe is null ? null : BadInputException.In("probe", () => (ProbeId?)new ProbeId(probe)),
        BadInputException.In("last", () => Core.Bounds.RefusalsShown.Require(last)));
}
