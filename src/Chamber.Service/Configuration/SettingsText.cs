using System.Text.Json;
using System.Text.Json.Serialization;
using Chamber.Service.Output;
using Chamber.Service.Words;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Configuration;

/// <summary>How chamber.json is written: camelCase, comments and trailing commas allowed, nothing unknown, nothing twice.</summary>
internal static class SettingsText
{
    private static readonly LocalTimePattern TimeOfDay = LocalTimePattern.CreateWithInvariantCulture("HH':'mm");

    public static JsonSerializerOptions Options { get; } = new(JsonSerializerDefaults.Web)
    {
        NumberHandling = JsonNumberHandling.Strict,
        PropertyNameCaseInsensitive = false,
        ReadCommentHandling = JsonCommentHandling.Skip,
        AllowTrailingCommas = true,
        AllowDuplicateProperties = false,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        RespectNullableAnnotations = true,
        WriteIndented = true,
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters =
        {
            new Word<Duration>(DurationText.Parse, DurationText.Exact),
            new Word<LocalTime>(ParseTime, TimeOfDay.Format),
            new Word<TemperatureScale>(ParseScale, scale => scale == TemperatureScale.Celsius ? "C" : "F"),
            new Word<DateTimeZone>(ParseZone, zone => zone.Id),
            new Word<MqttVersion>(ParseVersion, version => version == MqttVersion.Five ? "5" : "3.1.1"),
        },
    };

    private static LocalTime ParseTime(string text) => TimeOfDay.Parse(text) is { Success: true } time
        ? time.Value
        : throw new FormatException($"\"{text}\" is not a time of day: write HH:MM, such as 22:00.");

    private static TemperatureScale ParseScale(string text) => TemperatureScales.TryParse(text, out var scale)
        ? scale
        : throw new FormatException($"\"{text}\" is not a unit: write \"C\" or \"F\".");

    private static DateTimeZone ParseZone(string text) => DateTimeZoneProviders.Tzdb.GetZoneOrNull(text)
        ?? throw new FormatException($"\"{text}\" is not a time zone: write a tz database name, such as Europe/Berlin or America/Chicago.");

    private static MqttVersion ParseVersion(string text) => text switch
    {
        "5" => MqttVersion.Five,
        "3.1.1" => MqttVersion.ThreeOneOne,
        _ => throw new FormatException($"\"{text}\" is not a version of MQTT spoken here: write \"5\" or \"3.1.1\"."),
    };

    /// <summary>A value written as a word; what it cannot read becomes an error with the parser's own mend.</summary>
    private sealed class Word<T>(Func<string, T> parse, Func<T, string> format) : JsonConverter<T>
    {
        // Zones are read through the base class of many.
        public override bool CanConvert(Type typeToConvert) => typeof(T).IsAssignableFrom(typeToConvert);

        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            var text = reader.TokenType == JsonTokenType.String
                ? reader.GetString()!
                : System.Text.Encoding.UTF8.GetString(reader.ValueSpan);
            try
            {
                return parse(text);
            }
            catch (FormatException problem)
            {
                throw new JsonException(problem.Message, problem);
            }
        }

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) => writer.WriteStringValue(format(value));
    }
}
