using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using Chamber.Core;
using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;

namespace Chamber.Mqtt.Listening;

/// <summary>A mapping that would read a topic, worked out from one of its messages.</summary>
/// <param name="Mapping">As chamber.json would have it.</param>
/// <param name="Found">What it would read, with the value that stands there now.</param>
/// <param name="Unsure">Quantities whose unit nothing names: it was guessed from the value.</param>
public sealed record MappingProposal(TopicMapping Mapping, IReadOnlyList<FoundField> Found, IReadOnlyList<Quantity> Unsure)
{
    private const int DepthMax = 6;
    private const int ValuesMax = 500;

    /// <summary>The proposal; null where nothing in the message looks like a quantity that Chamber reads.</summary>
    /// <param name="topic">The topic.</param>
    /// <param name="payload">A message of it.</param>
    public static MappingProposal? Of(string topic, ReadOnlyMemory<byte> payload)
    {
        ArgumentNullException.ThrowIfNull(topic);
        return Number(payload) is { } number ? OfNumber(topic, number) : OfJson(topic, payload);
    }

    /// <summary>How a mapping for a topic begins: which part of the topic names the probe, and nothing yet of the message.</summary>
    public static TopicMapping Place(string topic)
    {
        ArgumentNullException.ThrowIfNull(topic);
        return ProbePlace.Of(topic.Split('/')).Put(new() { Form = PayloadForm.Json });
    }

    /// <summary>Every number in a message, with where it stands.</summary>
    public static IReadOnlyList<NumberAt> Numbers(ReadOnlyMemory<byte> payload)
    {
        if (Number(payload) is { } whole)
        {
            return [new("", whole)];
        }

        try
        {
            using var document = JsonDocument.Parse(payload);
            return [.. Numbers(document.RootElement, "", 0).Take(ValuesMax)];
        }
        catch (Exception problem) when (problem is JsonException or InvalidOperationException)
        {
            // The second is how System.Text.Json says that a name is no valid Unicode.
            return [];
        }
    }

    private static IEnumerable<NumberAt> Numbers(JsonElement element, string at, int depth) => depth > DepthMax ? []
        : element.ValueKind is not (JsonValueKind.Object or JsonValueKind.Array) ? Number(element) is { } number ? [new(at, number)] : []
        : Parts(element).SelectMany(part => Numbers(part.Value, Pointer(at, part.Name), depth + 1));

    private static MappingProposal? OfNumber(string topic, double number)
    {
        var levels = topic.Split('/');
        if (levels.Reverse().Select(QuantityWords.Find).FirstOrDefault(found => found is not null) is not { } quantity)
        {
            return null;
        }

        var unit = QuantityWords.Unit(quantity, levels[^1], null, number);
        var place = ProbePlace.Of(levels);
        return new(
            place.Put(new() { Form = PayloadForm.Number, Quantity = quantity, Unit = unit.Code }),
            [new(quantity, "", unit.Code, number)], unit.IsGuess ? [quantity] : []);
    }

    private static MappingProposal? OfJson(string topic, ReadOnlyMemory<byte> payload)
    {
        try
        {
            using var document = JsonDocument.Parse(payload);
            if (SenmlProposal.Of(topic, document.RootElement) is { } senml)
            {
                return senml;
            }

            var fields = new List<(Quantity Quantity, string At, int Depth, double Value, string Name, string? Unit)>();
            Walk(document.RootElement, "", 0, null, fields);

            // Of several that could be meant the outermost, and of those the first.
            var best = fields.GroupBy(field => field.Quantity).Select(same => same.MinBy(field => field.Depth)).ToList();
            return best.Exists(field => field.Quantity is Quantity.Temperature or Quantity.Humidity or Quantity.Moisture)
                ? OfFields(topic, best) : null;
        }
        catch (Exception problem) when (problem is JsonException or InvalidOperationException)
        {
            return null;
        }
    }

    private static MappingProposal OfFields(string topic,
        List<(Quantity Quantity, string At, int Depth, double Value, string Name, string? Unit)> fields)
    {
        var mapping = ProbePlace.Of(topic.Split('/')).Put(new() { Form = PayloadForm.Json });
        var (found, unsure) = (new List<FoundField>(), new List<Quantity>());
        foreach (var field in fields)
        {
            var unit = QuantityWords.Unit(field.Quantity, field.Name, field.Unit, field.Value);
            var at = new FieldMapping(field.At, unit.Code);
            mapping = field.Quantity switch
            {
                Quantity.Temperature => mapping with { Temperature = at },
                Quantity.Humidity => mapping with { Humidity = at },
                Quantity.Moisture => mapping with { Moisture = at },
                _ => mapping with { Battery = at },
            };
            found.Add(new(field.Quantity, field.At, unit.Code, field.Value));
            unsure.AddRange(unit.IsGuess ? [field.Quantity] : []);
        }

        return new(mapping, found, unsure);
    }

    // A value may also be called "value" beside its unit, inside an object that is called after the quantity.
    private static void Walk(JsonElement element, string at, int depth, string? parent,
        List<(Quantity, string, int, double, string, string?)> into)
    {
        if (depth > DepthMax || into.Count > ValuesMax || element.ValueKind is not (JsonValueKind.Object or JsonValueKind.Array))
        {
            return;
        }

        var isList = element.ValueKind == JsonValueKind.Array;
        var unit = !isList && Text(element, "unit", "units", "u", "unit_of_measurement", "unitCode") is { } said ? said : null;
        foreach (var (name, value) in Parts(element))
        {
            var pointer = Pointer(at, name);
            var called = !isList && name is "value" or "val" or "v" ? parent ?? name : name;
            if (Number(value) is { } number && QuantityWords.Find(called) is { } quantity)
            {
                into.Add((quantity, pointer, depth, number, called, unit));
            }

            Walk(value, pointer, depth + 1, isList ? parent : name, into);
        }
    }

    private static IEnumerable<(string Name, JsonElement Value)> Parts(JsonElement element) => element.ValueKind == JsonValueKind.Array
        ? element.EnumerateArray().Select((value, i) => (i.ToString(CultureInfo.InvariantCulture), value))
        : element.EnumerateObject().Select(property => (property.Name, property.Value));

    private static string Pointer(string at, string name) =>
        $"{at}/{name.Replace("~", "~0", StringComparison.Ordinal).Replace("/", "~1", StringComparison.Ordinal)}";

    private static string? Text(JsonElement element, params string[] names) => names
        .Select(name => element.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString() : null)
        .FirstOrDefault(text => text is not null);

    private static double? Number(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.Number => value.TryGetDouble(out var number) ? number : null,
        JsonValueKind.String => Number(value.GetString()!),
        _ => null,
    };

    private static double? Number(ReadOnlyMemory<byte> payload) =>
        payload.Length is > 0 and < 32 ? Number(Encoding.UTF8.GetString(payload.Span).Trim()) : null;

    private static double? Number(string text) =>
        double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number)
            && double.IsFinite(number) ? number : null;
}

/// <summary>A number in a message.</summary>
/// <param name="At">Where it stands (RFC 6901); empty for the whole message.</param>
/// <param name="Value">What stands there now.</param>
public sealed record NumberAt(string At, double Value);

/// <summary>A value that a proposal would read.</summary>
/// <param name="Quantity">What it is.</param>
/// <param name="JsonPointer">Where it stands (RFC 6901); empty for the whole message.</param>
/// <param name="Unit">Its unit by UCUM.</param>
/// <param name="Value">What stands there now.</param>
public sealed record FoundField(Quantity Quantity, string JsonPointer, string Unit, double Value)
{
    /// <summary>Value and unit as people write them: <c>70.5 °F</c>.</summary>
    [JsonIgnore]
    public string Words => string.Create(CultureInfo.InvariantCulture,
        $"{Value:0.##} {(DeclaredUnit.TryParse(Unit, Quantity, out var unit) ? unit.Symbol : Unit)}");
}

/// <summary>Which level of a topic names the probe.</summary>
internal readonly record struct ProbePlace(string Topic, string? Probe)
{
    // Levels that many bridges put before or behind the name. Common practice, no source.
    private static readonly string[] Plain = ["sensor", "sensors", "state", "status", "reading", "readings", "data", "events", "json",
        "value", "values", "home", "house", "info", "telemetry", "update", "attributes", "senml"];

    public static ProbePlace Of(string[] levels)
    {
        for (var i = levels.Length - 1; i >= 0; i--)
        {
            if (Identifier.IsValid(levels[i]) && QuantityWords.Find(levels[i]) is null
                && !Plain.Contains(levels[i], StringComparer.OrdinalIgnoreCase) && (i > 0 || levels.Length == 1))
            {
                var at = i;
                return new(string.Join('/', levels.Select((level, j) => j == at ? "{probe}" : level)), null);
            }
        }

        var name = string.Concat(string.Join('-', levels).Where(letter => char.IsLetterOrDigit(letter) || letter is '-' or '_' or '.'))
            .TrimStart('-', '_', '.');
        return new(string.Join('/', levels), name.Length > 0 ? name[..Math.Min(name.Length, Identifier.LengthMax)] : "probe-1");
    }

    public TopicMapping Put(TopicMapping mapping) => mapping with { Topic = Topic, Probe = Probe };
}
