using System.Text.Json;
using Chamber.Service.Access;
using Microsoft.AspNetCore.Http.Metadata;

namespace Chamber.Service.Web.Api;

/// <summary>Refuses a query parameter that an operation does not have, as a body's unknown member is refused: a slip in an optional one
/// would otherwise be answered as if nothing had been asked.</summary>
internal static class QueryCheck
{
    /// <summary>After access is checked, and before anything is read: a slip in a name is told as that, and not as a missing
    /// parameter.</summary>
    public static Task Check(HttpContext context, RequestDelegate next)
    {
        if (context.Request.Query.Count > 0 && ApiPath.IsApi(context.Request.Path) && context.GetEndpoint() is RouteEndpoint endpoint)
        {
            var known = Names(endpoint);
            if (context.Request.Query.Keys.FirstOrDefault(name => !known.Contains(name)) is { } unknown)
            {
                throw BadInputException.In(unknown, ApiProblems.NotKnown(unknown, known));
            }
        }

        return next(context);
    }

    // In any case of letters, as the server binds them.
    private static HashSet<string> Names(RouteEndpoint endpoint)
    {
        var inPath = endpoint.RoutePattern.Parameters.Select(part => part.Name).ToHashSet(StringComparer.OrdinalIgnoreCase);
        return endpoint.Metadata.GetOrderedMetadata<IParameterBindingMetadata>()
            .Where(part => !inPath.Contains(part.Name) && IsText(part.ParameterInfo.ParameterType))
            .Select(part => JsonNamingPolicy.CamelCase.ConvertName(part.Name))
            .Concat(endpoint.Metadata.GetMetadata<AsOfQuery.Mark>() is null ? [] : [AsOfQuery.Name])
            .ToHashSet(StringComparer.OrdinalIgnoreCase);
    }

    // What is written in an address; services and bodies are of other types.
    private static bool IsText(Type type) => type.IsArray ? IsText(type.GetElementType()!)
        : (Nullable.GetUnderlyingType(type) ?? type) is var plain
            && (plain == typeof(string) || plain.IsPrimitive || plain == typeof(decimal));
}
