using Chamber.Service.Health;
using Chamber.Service.Web.Views;

namespace Chamber.Service.Web.Api;

/// <summary>The service about itself.</summary>
internal static class ServiceRoutes
{
    public static void Map(RouteGroupBuilder owned, RouteGroupBuilder writes)
    {
        owned = owned.MapGroup(string.Empty).WithTags("Service");
        writes = writes.MapGroup(string.Empty).WithTags("Service");
        owned.MapGet("/service", (PageHome page, Func<BrokerState> broker) => ServiceState.Of(page, broker())).WithName("Service")
            .WithSummary("Version, data, readings and broker of the service.");
        writes.MapPost("/service/stop", (IHostApplicationLifetime life) =>
        {
            life.StopApplication();
            return TypedResults.Accepted((string?)null);
        }).WithName("StopService")
            .WithSummary("Stops the service, so that a backup that waits is brought back when it starts next. A service manager may start "
            + "it again by itself.");
    }
}
