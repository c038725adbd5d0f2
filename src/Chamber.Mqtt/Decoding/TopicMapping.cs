using System.Text.Json;
using System.Text.Json.Serialization;
using Chamber.Core.Climate;

namespace Chamber.Mqtt.Decoding;

/// <summary>A choice as chamber.json has it: <c>epochSeconds</c>.</summary>
public sealed class SettingWord<T>() : JsonStringEnumConverter<T>(JsonNamingPolicy.CamelCase, allowIntegerValues: false)
    where T : struct, Enum;

/// <summary>The shape of a payload.</summary>
[JsonConverter(typeof(SettingWord<PayloadForm>))]
public enum PayloadForm
{
    /// <summary>Chamber's own JSON.</summary>
    Chamber,

    /// <summary>Any JSON, with a JSON Pointer for each quantity.</summary>
    Json,

    /// <summary>SenML JSON (RFC 8428).</summary>
    Senml,

    /// <summary>A bare number.</summary>
    Number,
}

/// <summary>One entry of the configuration: which topics carry readings, and where in the payload they are. Bound from JSON.</summary>
[JsonUnmappedMemberHandling(JsonUnmappedMemberHandling.Disallow)]
public sealed record TopicMapping
{
    /// <summary>A topic filter with + and #; a level <c>{probe}</c> names the probe.</summary>
    public string Topic { get; set; } = string.Empty;

    /// <summary>The shape of the payload.</summary>
    public PayloadForm Form { get; set; }

    /// <summary>The probe, when no level of the topic names it.</summary>
    public string? Probe { get; set; }

    /// <summary>Other names for what stands in the topic: a bridge's name to the probe's.</summary>
    public IReadOnlyDictionary<string, string>? Probes { get; set; }

    /// <summary>Of <see cref="PayloadForm.Json"/>: where the temperature is.</summary>
    public FieldMapping? Temperature { get; set; }

    /// <summary>Of <see cref="PayloadForm.Json"/>: where the relative humidity is.</summary>
    public FieldMapping? Humidity { get; set; }

    /// <summary>Of <see cref="PayloadForm.Json"/>: where the media moisture is.</summary>
    public FieldMapping? Moisture { get; set; }

    /// <summary>Of <see cref="PayloadForm.Json"/>: where the battery charge is.</summary>
    public FieldMapping? Battery { get; set; }

    /// <summary>Of <see cref="PayloadForm.Json"/>: where the time is; without it the time of arrival counts.</summary>
    public TimeMapping? Time { get; set; }

    /// <summary>Of <see cref="PayloadForm.Number"/>: what the number is.</summary>
    [JsonConverter(typeof(SettingWord<Quantity>))]
    public Quantity? Quantity { get; set; }

    /// <summary>Of <see cref="PayloadForm.Number"/>: its unit.</summary>
    public string? Unit { get; set; }

    /// <summary>Of <see cref="PayloadForm.Senml"/>: what the resolved names stand for. A name may hold <c>{probe}</c> once.</summary>
    public IReadOnlyDictionary<string, SenmlName>? Names { get; set; }

    /// <summary>Somebody compared the probe with a trusted thermometer: its values are no longer held for looking like the other
    /// unit.</summary>
    public bool UnitConfirmed { get; set; }
}

/// <summary>Where in a JSON payload a quantity is.</summary>
/// <param name="JsonPointer">A JSON Pointer (RFC 6901): <c>/sensors/0/temp</c>.</param>
/// <param name="Unit">Its UCUM code.</param>
[JsonUnmappedMemberHandling(JsonUnmappedMemberHandling.Disallow)]
public sealed record FieldMapping([property: JsonPropertyName("pointer")] string JsonPointer, string Unit);

/// <summary>Where in a JSON payload the time is.</summary>
/// <param name="JsonPointer">A JSON Pointer (RFC 6901).</param>
/// <param name="Form">How it is written.</param>
[JsonUnmappedMemberHandling(JsonUnmappedMemberHandling.Disallow)]
public sealed record TimeMapping(
    [property: JsonPropertyName("pointer")] string JsonPointer,
    [property: JsonConverter(typeof(SettingWord<TimeForm>))] TimeForm Form);

/// <summary>What a SenML name stands for.</summary>
/// <param name="Quantity">Which quantity; may be left out when the unit says it: <c>Cel</c>, <c>%RH</c>, <c>%EL</c>.</param>
/// <param name="Probe">Whose; may be left out when the name or the topic holds <c>{probe}</c>.</param>
/// <param name="Unit">Its unit where the records carry none.</param>
[JsonUnmappedMemberHandling(JsonUnmappedMemberHandling.Disallow)]
public sealed record SenmlName(
    [property: JsonConverter(typeof(SettingWord<Quantity>))] Quantity? Quantity = null,
    string? Probe = null,
    string? Unit = null);
