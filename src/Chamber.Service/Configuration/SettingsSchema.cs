using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Schema;
using System.Text.Json.Serialization.Metadata;
using Chamber.Mqtt.Connection;
using NodaTime;

namespace Chamber.Service.Configuration;

/// <summary>
/// What chamber.json may hold, as a JSON Schema (draft 2020-12), for editors and for whoever writes the file by program. It tells names,
/// kinds and words; what contradicts itself, or a file that is not there, only <c>chamber check</c> can tell.
/// </summary>
internal static class SettingsSchema
{
    private static readonly JsonSchemaExporterOptions Exported =
        new() { TreatNullObliviousAsNonNullable = true, TransformSchemaNode = Spell };

    private static readonly JsonSerializerOptions Read = new(SettingsText.Options) { TypeInfoResolver = new DefaultJsonTypeInfoResolver() };

    public static string Text()
    {
        var schema = Read.GetJsonSchemaAsNode(typeof(Settings), Exported).AsObject();
        var whole = new JsonObject
        {
            ["$schema"] = "https://json-schema.org/draft/2020-12/schema",
            ["title"] = "chamber.json",
            ["description"] = "Settings of Chamber. config/chamber.jsonc shows each with its default and what it is for.",
        };
        foreach (var (name, value) in schema)
        {
            whole[name] = value?.DeepClone();
        }

        return whole.ToJsonString(Read) + "\n";
    }

    // What is written as a word is nothing that the exporter can know.
    private static JsonNode Spell(JsonSchemaExporterContext context, JsonNode schema)
    {
        var type = Nullable.GetUnderlyingType(context.TypeInfo.Type) ?? context.TypeInfo.Type;
        var isNullable = context.PropertyInfo?.IsSetNullable == true || type != context.TypeInfo.Type;
        return type switch
        {
            _ when type == typeof(Duration) => Text("^[0-9.]+ ?(s|m|min|h|d|w)$", isNullable),
            _ when type == typeof(LocalTime) => Text("^([01][0-9]|2[0-3]):[0-5][0-9]$", isNullable),
            _ when typeof(DateTimeZone).IsAssignableFrom(type) => Text(null, isNullable),
            _ when type == typeof(TemperatureScale) => new JsonObject { ["enum"] = new JsonArray("C", "F") },
            _ when type == typeof(MqttVersion) => new JsonObject { ["enum"] = new JsonArray("5", "3.1.1") },
            _ => schema,
        };
    }

    private static JsonObject Text(string? pattern, bool isNullable)
    {
        var text = new JsonObject { ["type"] = isNullable ? new JsonArray("string", "null") : "string" };
        if (pattern is not null)
        {
            text["pattern"] = pattern;
        }

        return text;
    }
}
