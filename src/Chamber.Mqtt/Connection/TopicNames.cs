using System.Text;

namespace Chamber.Mqtt.Connection;

/// <summary>The same text for the same topic, so that a message need not make one. Bounded; beyond that each makes its own.</summary>
internal sealed class TopicNames
{
    private const int NamesMax = 10_000;
    private const int ShortLength = 256;

    private readonly Dictionary<string, string> names = new(StringComparer.Ordinal);

    public string Of(ReadOnlySpan<byte> utf8)
    {
        if (utf8.Length > ShortLength)
        {
            return Encoding.UTF8.GetString(utf8);
        }

        Span<char> buffer = stackalloc char[ShortLength];
        var text = buffer[..Encoding.UTF8.GetChars(utf8, buffer)];
        if (!names.GetAlternateLookup<ReadOnlySpan<char>>().TryGetValue(text, out var name))
        {
            name = text.ToString();
            if (names.Count < NamesMax)
            {
                names.Add(name, name);
            }
        }

        return name;
    }
}
