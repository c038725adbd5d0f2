using Chamber.Service.Access;
using Chamber.Service.Home;
using Chamber.Service.Web.Views;

namespace Chamber.Service.Web.Api;

/// <summary>Wires the HTTP API into the service's web server.</summary>
internal static class ApiModule
{
    public static void AddApi(this IServiceCollection services)
    {
        services.ConfigureHttpJsonOptions(options => ApiJson.Use(options.SerializerOptions));
        services.Configure<RouteHandlerOptions>(options => options.ThrowOnBadRequest = true);
        services.AddExceptionHandler<ApiProblems>();
        services.AddProblemDetails();
        services.AddOpenApi("v1", options =>
        {
            options.ShouldInclude = description => description.RelativePath?.StartsWith("api/", StringComparison.Ordinal) == true;
            options.AddSchemaTransformer(ApiSchemas.Describe);
            options.AddOperationTransformer(ApiSchemas.Lower);
            options.AddOperationTransformer(AsOfQuery.Describe);
            options.AddDocumentTransformer(ApiSchemas.Head);
        });
    }

    /// <summary>Before access is checked, so that every refusal has the same form.</summary>
    public static void UseApiProblems(this WebApplication app)
    {
        app.UseExceptionHandler();
        app.UseStatusCodePages(ApiProblems.WriteStatus);
        app.Use((context, next) => CrossSiteGuard.Check(context, next));
    }

    /// <param name="app">The web server.</param>
    /// <param name="isAtHome">Whether the home has a data file here; without one what rests on it, or on its machine, is not there.</param>
    public static void MapApi(this WebApplication app, bool isAtHome)
    {
        app.MapOpenApi("/openapi/{documentName}.json");
        var api = app.MapGroup("/api").RequireAuthorization(AccessModule.Look).ProducesProblem(StatusCodes.Status401Unauthorized);
        var reads = api.MapGroup(string.Empty).LooksBack().AddEndpointFilter(Ask);

        // What the page shows under Set up only: guests have no business with it.
        var owned = api.MapGroup(string.Empty).RequireAuthorization(AccessModule.Change).ProducesProblem(StatusCodes.Status403Forbidden);
        var shown = owned.MapGroup(string.Empty).AddEndpointFilter(Ask);
        var writes = owned.MapGroup(string.Empty)
            .ProducesProblem(StatusCodes.Status400BadRequest)
            .ProducesProblem(StatusCodes.Status409Conflict)
            .AddEndpointFilter(TellTheWatch);
        HomeRoutes.Map(reads, writes);
        SpotRoutes.Map(reads, writes);
        ProbeRoutes.Map(reads, writes);
        CalibrationRoutes.Map(reads, writes);
        CropRoutes.Map(reads, writes);
        BatchRoutes.Map(reads, writes);
        SeedRoutes.Map(reads, writes);
        PlanRoutes.Map(reads, writes);
        AlertRoutes.Map(reads, writes);
        MaintenanceRoutes.Map(reads, writes);
        TrialRoutes.Map(reads, writes);
        HistoryRoutes.Map(reads, writes);
        CautionRoutes.Map(reads);
        TakeOutRoutes.Map(reads);
        PhotoRoutes.Map(reads, writes);
        RefusalRoutes.Map(shown);
        if (isAtHome)
        {
            app.MapGroup("/api").WithTags("Access").MapAccess();
            BrokerRoutes.Map(writes);
            SettingsRoutes.Map(reads, writes);
            BackupRoutes.Map(shown, writes);
            NoticeRoutes.Map(shown, writes);
            PeopleRoutes.Map(shown, writes);
            ServiceRoutes.Map(shown, writes);
        }
    }

    // A question writes nothing, so it may be computed as often as it takes to load what it needs.
    private static ValueTask<object?> Ask(EndpointFilterInvocationContext context, EndpointFilterDelegate next) =>
        context.HttpContext.RequestServices.GetRequiredService<PageHome>().AskAsync(() => next(context),
            context.HttpContext.RequestAborted);

    private static async ValueTask<object?> TellTheWatch(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        var services = context.HttpContext.RequestServices;
        services.GetRequiredService<PageHome>().Author = new(context.HttpContext.User.Identity?.Name ?? "", Core.Facts.WriteWay.Api);
        var answer = await next(context);
        services.GetRequiredService<HomeChanges>().Note();
        return answer;
    }
}
