using System.Text.Json;
using System.Text.Json.Serialization;

namespace Chamber.Service.Configuration;

/// <summary>A value written as a word; what it cannot read becomes an error with the parser's own fix.</summary>
internal sealed class Word<T>(Func<string, T> parse, Func<T, string> format) : JsonConverter<T>
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
