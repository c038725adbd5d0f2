using System.Text.Json;

namespace Chamber.Service.Tests.Web.Api;

/// <summary>Compares an answer with its schema in an OpenAPI document: kinds, choices, properties; nothing that is not described.</summary>
internal static class JsonShape
{
    /// <summary>What is wrong, or null.</summary>
    public static string? Wrong(JsonElement document, JsonElement schema, JsonElement value, string where = "$")
    {
        if (schema.TryGetProperty("$ref", out var reference))
        {
            return Wrong(document, Resolve(document, reference.GetString()!), value, where);
        }

        if (schema.TryGetProperty("oneOf", out var choices))
        {
            var found = choices.EnumerateArray().Select(choice => Wrong(document, choice, value, where)).ToList();
            return found.Contains(null) ? null : found[^1];
        }

        if (schema.TryGetProperty("enum", out var words) && value.ValueKind == JsonValueKind.String && !words.EnumerateArray()
            .Any(word => word.GetString() == value.GetString()))
        {
            return $"{where}: {value} is none of {words}";
        }

        return WrongKind(schema, value, where) ?? value.ValueKind switch
        {
            JsonValueKind.Array when schema.TryGetProperty("items", out var items) =>
                value.EnumerateArray().Select((item, i) => Wrong(document, items, item, $"{where}[{i}]"))
                    .FirstOrDefault(wrong => wrong is not null),
            JsonValueKind.Object => WrongObject(document, schema, value, where),
            _ => null,
        };
    }

    private static string? WrongKind(JsonElement schema, JsonElement value, string where)
    {
        if (!schema.TryGetProperty("type", out var type))
        {
            return $"{where}: the schema names no type";
        }

        var kinds = type.ValueKind == JsonValueKind.Array ? type.EnumerateArray().Select(kind => kind.GetString()).ToList()
            : [type.GetString()];
        var kind = value.ValueKind switch
        {
            JsonValueKind.Null => "null",
            JsonValueKind.String => "string",
            JsonValueKind.True or JsonValueKind.False => "boolean",
            JsonValueKind.Array => "array",
            JsonValueKind.Object => "object",
            _ => "number",
        };
        return kinds.Contains(kind) || (kind == "number" && kinds.Contains("integer")) ? null
            : $"{where}: {kind} is none of {string.Join(", ", kinds)}";
    }

    private static string? WrongObject(JsonElement document, JsonElement schema, JsonElement value, string where)
    {
        if (schema.TryGetProperty("additionalProperties", out _))
        {
            return null;
        }

        if (!schema.TryGetProperty("properties", out var properties))
        {
            return $"{where}: the schema names no properties";
        }

        foreach (var property in value.EnumerateObject())
        {
            if (!properties.TryGetProperty(property.Name, out var known))
            {
                return $"{where}: {property.Name} is not described";
            }

            if (Wrong(document, known, property.Value, $"{where}.{property.Name}") is { } wrong)
            {
                return wrong;
            }
        }

        return null;
    }

    private static JsonElement Resolve(JsonElement document, string reference) =>
        reference.TrimStart('#', '/').Split('/').Aggregate(document, (at, name) => at.GetProperty(name));
}
