namespace Chamber.Mqtt.Decoding;

/// <summary>
/// Some firmware prints a missing number as <c>nan</c>, which is no JSON (RFC 8259 section 6), and so spoils the other numbers
/// of the message. Those words become <c>null</c>, so that only their own field is missing.
/// </summary>
internal static class BareWords
{
    private static readonly byte[][] Words = ["nan"u8.ToArray(), "NaN"u8.ToArray(), "NAN"u8.ToArray(), "inf"u8.ToArray(),
        "Infinity"u8.ToArray()];

    /// <summary>The payload with <c>null</c> in the place of such words outside of text; null when there are none.</summary>
    public static byte[]? Replace(ReadOnlySpan<byte> payload)
    {
        var replaced = new List<byte>(payload.Length);
        var inText = false;
        var found = false;
        for (var index = 0; index < payload.Length; index++)
        {
            var current = payload[index];
            if (inText && current == '\\' && index + 1 < payload.Length)
            {
                replaced.Add(current);
                current = payload[++index];
            }
            else if (current == '"')
            {
                inText = !inText;
            }
            else if (!inText && WordAt(payload[index..]) is var length and > 0)
            {
                replaced.AddRange("null"u8);
                index += length - 1;
                found = true;
                continue;
            }

            replaced.Add(current);
        }

        return found ? [.. replaced] : null;
    }

    private static int WordAt(ReadOnlySpan<byte> text)
    {
        var sign = text[0] is (byte)'-' or (byte)'+' ? 1 : 0;
        foreach (var word in Words)
        {
            if (text[sign..].StartsWith(word))
            {
                return sign + word.Length;
            }
        }

        return 0;
    }
}
