using Chamber.Service.Web.Views;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;

namespace Chamber.Service.Web.Api;

/// <summary><c>?asOf=</c> of every question: answers from what was written down and received by that time.</summary>
internal static class AsOfQuery
{
    public const string Name = "asOf";

    public static RouteGroupBuilder LooksBack(this RouteGroupBuilder questions) =>
        questions.WithMetadata(new Mark()).AddEndpointFilter(Answer);

    public static Task Describe(OpenApiOperation operation, OpenApiOperationTransformerContext context, CancellationToken cancel)
    {
        if (context.Description.ActionDescriptor.EndpointMetadata.OfType<Mark>().Any())
        {
            (operation.Parameters ??= []).Add(new OpenApiParameter
            {
                Name = Name,
                In = ParameterLocation.Query,
                Description = "Answers from what was known then: written down and received by that time. Now, where it is left out.",
                Schema = new OpenApiSchema { Type = JsonSchemaType.String },
            });
        }

        return Task.CompletedTask;
    }

    private static async ValueTask<object?> Answer(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        if (context.HttpContext.Request.Query[Name] is [{ } asOf, ..])
        {
            await context.HttpContext.RequestServices.GetRequiredService<PageHome>().LookBackAsync(asOf);
        }

        return await next(context);
    }

    /// <summary>That an operation takes it.</summary>
    public sealed record Mark;
}
