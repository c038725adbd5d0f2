using System.Text.Json;
using System.Text.Json.Serialization;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Service.Configuration;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Web.Api;

/// <summary>
/// The API answers as <c>--json</c> does, and reads names, days and choices by the same parsers as the command line, so that a
/// refusal has the same words.
/// </summary>
internal static class ApiJson
{
    public static void Use(JsonSerializerOptions options)
    {
        JsonConverter[] readers =
        [
            new ChoiceWords(),
            new Word<BatchId>(text => new(text), id => id.Text),
            new Word<LotId>(text => new(text), id => id.Text),
            new Word<ProbeId>(text => new(text), id => id.Text),
            new Word<SpotId>(text => new(text), id => id.Text),
            new Word<CropId>(text => new(text), id => id.Text),
            new Word<LocalDate>(DayText.Parse, LocalDatePattern.Iso.Format),
            new Word<LocalTime>(SettingsText.ParseTime, SettingsText.ShowTime),
            new Length(),
        ];
        foreach (var converter in readers.Concat(JsonText.Options.Converters))
        {
            options.Converters.Add(converter);
        }

        options.Encoder = JsonText.Options.Encoder;
        options.UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow;
        options.RespectRequiredConstructorParameters = true;
        options.RespectNullableAnnotations = true;
        options.NumberHandling = JsonNumberHandling.Strict;
    }

    /// <summary>A choice: <c>coveredMix</c> as it is answered, or <c>covered-mix</c> as it is typed.</summary>
    private sealed class ChoiceWords : JsonConverterFactory
    {
        public override bool CanConvert(Type typeToConvert) => typeToConvert.IsEnum;

        public override JsonConverter CreateConverter(Type typeToConvert, JsonSerializerOptions options) =>
            (JsonConverter)Activator.CreateInstance(typeof(Reader<>).MakeGenericType(typeToConvert))!;

        private sealed class Reader<T> : JsonConverter<T>
            where T : struct, Enum
        {
            public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
                reader.TokenType == JsonTokenType.String ? Parse(reader.GetString()!)
                    : throw new JsonException($"this is none of {Known()}.", new FormatException());

            public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) =>
                writer.WriteStringValue(JsonNamingPolicy.CamelCase.ConvertName(value.ToString()));

            private static T Parse(string text)
            {
                foreach (var value in Enum.GetValues<T>())
                {
                    if (string.Equals(value.ToString(), text, StringComparison.OrdinalIgnoreCase)
                        || string.Equals(Choice.Word(value), text, StringComparison.OrdinalIgnoreCase))
                    {
                        return value;
                    }
                }

                throw new JsonException($"\"{text}\" is none of {Known()}.", new FormatException());
            }

            private static string Known() => string.Join(", ", Enum.GetNames<T>().Select(JsonNamingPolicy.CamelCase.ConvertName));
        }
    }

    /// <summary>A length of time: read as <c>"2h"</c> or as a number of hours, answered in hours.</summary>
    private sealed class Length : JsonConverter<Duration>
    {
        public override Duration Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            try
            {
                return reader.TokenType == JsonTokenType.String
                    ? DurationText.Parse(reader.GetString()!)
                    : DurationText.Parse(reader.GetDouble().ToString(System.Globalization.CultureInfo.InvariantCulture) + "h");
            }
            catch (FormatException problem)
            {
                throw new JsonException(problem.Message, problem);
            }
        }

        public override void Write(Utf8JsonWriter writer, Duration value, JsonSerializerOptions options) =>
            JsonSerializer.Serialize(writer, value, JsonText.Options);
    }
}
