using System.Buffers.Text;
using System.Text;
using System.Text.Json;
using Chamber.Core.Climate;

namespace Chamber.Mqtt.Decoding;

/// <summary>Reads a number out of what a field holds: a JSON number, or text with nothing but a number in it.</summary>
internal static class FieldText
{
    private const int WordLengthMax = 16;

    /// <summary>The number, or why there is none: absent words are <see cref="RefusalReason.Missing"/>, other text is malformed.</summary>
    public static bool TryNumber(ReadOnlySpan<byte> text, out double number, out RefusalReason reason)
    {
        reason = RefusalReason.Malformed;
        text = text.Trim(" \t\r\n"u8);
        if (Utf8Parser.TryParse(text, out number, out var consumed) && consumed == text.Length && double.IsFinite(number))
        {
            return true;
        }

        if (text.Length <= WordLengthMax && SentinelValues.IsWordForNothing(Encoding.UTF8.GetString(text)))
        {
            reason = RefusalReason.Missing;
        }

        return false;
    }

    /// <summary>The number that the reader is on. An object or array is skipped.</summary>
    public static bool TryNumber(ref Utf8JsonReader reader, out double number, out RefusalReason reason)
    {
        reason = RefusalReason.Malformed;
        switch (reader.TokenType)
        {
            case JsonTokenType.Number:
                return reader.TryGetDouble(out number);
            case JsonTokenType.String when !reader.ValueIsEscaped:
                return TryNumber(reader.ValueSpan, out number, out reason);
            case JsonTokenType.Null:
                reason = RefusalReason.Missing;
                break;
            default:
                reader.Skip();
                break;
        }

        number = double.NaN;
        return false;
    }

    public static bool TryNumber(JsonElement element, out double number, out RefusalReason reason)
    {
        number = double.NaN;
        reason = RefusalReason.Malformed;
        switch (element.ValueKind)
        {
            case JsonValueKind.Number:
                return element.TryGetDouble(out number);
            case JsonValueKind.String:
                return TryNumber(Encoding.UTF8.GetBytes(element.GetString()!), out number, out reason);
            case JsonValueKind.Null:
                reason = RefusalReason.Missing;
                return false;
            default:
                return false;
        }
    }
}
