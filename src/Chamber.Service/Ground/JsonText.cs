using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Ground;

/// <summary>
/// Answers for programs: camelCase names, temperatures as °C numbers, warm-hours as °C·h, durations in hours, times as
/// RFC 3339 in UTC, identifiers as strings, choices as camelCase words. Nine significant digits, so that the same answer
/// is the same text on every machine.
/// </summary>
internal static class JsonText
{
    public static JsonSerializerOptions Options { get; } = Make();

    /// <summary>The same on one line, for messages.</summary>
    public static JsonSerializerOptions Compact { get; } = new(Options) { WriteIndented = false };

    public static void Write<T>(TextWriter output, T value) => output.WriteLine(JsonSerializer.Serialize(value, Options));

    /// <summary>The same of an object, with more members at its end; one without a value is left out.</summary>
    public static void Write<T>(TextWriter output, T value, params IReadOnlyList<(string Name, object? Value)> more)
    {
        var whole = JsonSerializer.SerializeToNode(value, Options)!.AsObject();
        foreach (var (name, member) in more.Where(one => one.Value is not null))
        {
            whole[name] = JsonSerializer.SerializeToNode(member, Options);
        }

        output.WriteLine(whole.ToJsonString(Options));
    }

    private static JsonSerializerOptions Make() => new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters =
        {
            new JsonStringEnumConverter(JsonNamingPolicy.CamelCase),
            new ShortNumber(),
            new OneWay<Instant>((writer, value) => writer.WriteStringValue(InstantPattern.ExtendedIso.Format(value))),
            new OneWay<Duration>((writer, value) => writer.WriteRawValue(ShortNumber.Text(value.TotalHours))),
            new OneWay<LocalDate>((writer, value) => writer.WriteStringValue(LocalDatePattern.Iso.Format(value))),
            new OneWay<Core.Climate.Temperature>((writer, value) => writer.WriteRawValue(ShortNumber.Text(value.Celsius))),
            new OneWay<Core.Climate.TemperatureDifference>((writer, value) => writer.WriteRawValue(ShortNumber.Text(value.Kelvins))),
            new OneWay<Core.Climate.RelativeHumidity>((writer, value) => writer.WriteRawValue(ShortNumber.Text(value.Percent))),
            new OneWay<Core.Climate.Warmth.WarmHours>((writer, value) => writer.WriteRawValue(ShortNumber.Text(value.CelsiusHours))),
            new OneWay<Core.Climate.ProbeId>((writer, value) => writer.WriteStringValue(value.Text)),
            new OneWay<Core.Spots.SpotId>((writer, value) => writer.WriteStringValue(value.Text)),
            new OneWay<Core.Crops.CropId>((writer, value) => writer.WriteStringValue(value.Text)),
            new OneWay<Core.Batches.BatchId>((writer, value) => writer.WriteStringValue(value.Text)),
            new OneWay<Core.Seeds.LotId>((writer, value) => writer.WriteStringValue(value.Text)),
        },
    };

    /// <summary>A converter that only writes: answers are never read back.</summary>
    private sealed class OneWay<T>(Action<Utf8JsonWriter, T> write) : JsonConverter<T>
    {
        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            throw new NotSupportedException($"{typeof(T).Name} is written, never read.");

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) => write(writer, value);
    }
}
