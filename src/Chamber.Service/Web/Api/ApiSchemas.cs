using System.Text.Json;
using System.Text.Json.Nodes;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Service.Access;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>Says in the OpenAPI document what our own types look like: their converters hide it from the generator.</summary>
internal static class ApiSchemas
{
    private static readonly Dictionary<Type, (JsonSchemaType Type, string? Format, string Words)> Known = new()
    {
        [typeof(Instant)] = (JsonSchemaType.String, "date-time", "A time in UTC (RFC 3339)."),
        [typeof(LocalDate)] = (JsonSchemaType.String, "date", "A day in the home's time zone."),
        [typeof(LocalTime)] = (JsonSchemaType.String, null, "A time of day in the home's time zone, as 07:30."),
        [typeof(Duration)] = (JsonSchemaType.Number, null, "Hours. In a request also text with a unit: \"2h\", \"30min\"."),
        [typeof(Temperature)] = (JsonSchemaType.Number, null, "°C."),
        [typeof(TemperatureDifference)] = (JsonSchemaType.Number, null, "Kelvins."),
        [typeof(RelativeHumidity)] = (JsonSchemaType.Number, null, "Percent."),
        [typeof(WarmHours)] = (JsonSchemaType.Number, null, "Degree-hours above the crop's base temperature, °C·h."),
        [typeof(double)] = (JsonSchemaType.Number, "double", string.Empty),
        [typeof(BatchId)] = (JsonSchemaType.String, null, "The name of a batch."),
        [typeof(LotId)] = (JsonSchemaType.String, null, "The name of a lot."),
        [typeof(ProbeId)] = (JsonSchemaType.String, null, "The name of a probe."),
        [typeof(SpotId)] = (JsonSchemaType.String, null, "The name of a spot."),
        [typeof(CropId)] = (JsonSchemaType.String, null, "The name of a crop in the catalog."),
    };

    public static Task Describe(OpenApiSchema schema, OpenApiSchemaTransformerContext context, CancellationToken cancel)
    {
        var asked = context.JsonTypeInfo.Type;
        var type = Nullable.GetUnderlyingType(asked) ?? asked;
        var none = Nullable.GetUnderlyingType(asked) is null ? default : JsonSchemaType.Null;
        if (type.IsEnum)
        {
            schema.Type = JsonSchemaType.String | none;
            schema.Enum = [.. Enum.GetNames(type).Select(name => (JsonNode)JsonNamingPolicy.CamelCase.ConvertName(name))];
        }
        else if (Known.TryGetValue(type, out var known))
        {
            schema.Type = known.Type | none;
            schema.Format = known.Format;
            schema.Properties = null;
            schema.Required = null;
            schema.Description = known.Words.Length > 0 ? known.Words : schema.Description;
        }

        return Task.CompletedTask;
    }

    /// <summary>Names of parameters as they are written everywhere else.</summary>
    public static Task Lower(OpenApiOperation operation, OpenApiOperationTransformerContext context, CancellationToken cancel)
    {
        foreach (var parameter in operation.Parameters?.OfType<OpenApiParameter>() ?? [])
        {
            parameter.Name = JsonNamingPolicy.CamelCase.ConvertName(parameter.Name ?? string.Empty);
        }

        return Task.CompletedTask;
    }

    public static Task Head(OpenApiDocument document, OpenApiDocumentTransformerContext context, CancellationToken cancel)
    {
        document.Info = new()
        {
            Title = "Chamber",
            Version = "1",
            Description = "Everything that the page and the command line do. Temperatures are °C, times are UTC, days are of the home's "
                + "time zone. Errors are problem details (RFC 9457).",
        };

        document.Components ??= new();
        document.Components.SecuritySchemes = new Dictionary<string, IOpenApiSecurityScheme>
        {
            ["token"] = new OpenApiSecurityScheme { Type = SecuritySchemeType.Http, Scheme = "bearer",
                Description = "A program's token, made under Set up, People and programs, or by chamber tokens add." },
            ["cookie"] = new OpenApiSecurityScheme { Type = SecuritySchemeType.ApiKey, In = ParameterLocation.Cookie,
                Name = AccessModule.CookieName,
                Description = "What signing in, or a guest's link, sets. On this machine neither is needed." },
        };
        document.Security = [new() { [new("token", document)] = [] }, new() { [new("cookie", document)] = [] }, new()];

        // Relative, so that the document is right under whatever name the service is reached.
        document.Servers = [new() { Url = context.ApplicationServices.GetService<Home.HomeHost>()?.Root ?? "/" }];
        return Task.CompletedTask;
    }
}
