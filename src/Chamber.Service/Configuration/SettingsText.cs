using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using Chamber.Core.Climate;
using Chamber.Mqtt.Connection;
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

        // What the first does not know, such as the layout of a file to import, is seldom read.
        TypeInfoResolver = JsonTypeInfoResolver.Combine(new SettingsContext(), new DefaultJsonTypeInfoResolver()),
        Converters =
        {
            new Word<Duration>(DurationText.Parse, DurationText.Exact),
            new Word<LocalTime>(ParseTime, ShowTime),
            new Word<TemperatureScale>(ParseScale, scale => scale == TemperatureScale.Celsius ? "C" : "F"),
            new Word<DateTimeZone>(ParseZone, zone => zone.Id),
            new Word<MqttVersion>(ParseVersion, version => version == MqttVersion.V5 ? "5" : "3.1.1"),
            new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false),
        },
    };

    public static string ShowTime(LocalTime time) => TimeOfDay.Format(time);

    /// <exception cref="FormatException">It is not a time of day.</exception>
    public static LocalTime ParseTime(string text) => TimeOfDay.Parse(text) is { Success: true } time
        ? time.Value
        : throw new FormatException($"\"{text}\" is not a time of day: write HH:MM, such as 22:00.");

    private static TemperatureScale ParseScale(string text) => TemperatureScales.TryParse(text, out var scale)
        ? scale
        : throw new FormatException($"\"{text}\" is not a unit: write \"C\" or \"F\".");

    private static DateTimeZone ParseZone(string text) => DateTimeZoneProviders.Tzdb.GetZoneOrNull(text)
        ?? throw new FormatException($"\"{text}\" is not a time zone: write a tz database name, such as Europe/Berlin or America/Chicago.");

    private static MqttVersion ParseVersion(string text) => text switch
    {
        "5" => MqttVersion.V5,
        "3.1.1" => MqttVersion.V311,
        _ => throw new FormatException($"\"{text}\" is not a version of MQTT spoken here: write \"5\" or \"3.1.1\"."),
    };
}
