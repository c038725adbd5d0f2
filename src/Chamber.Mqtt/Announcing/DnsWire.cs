using System.Buffers.Binary;
using System.Text;

namespace Chamber.Mqtt.Announcing;

/// <summary>A question of a DNS message (RFC 1035 section 4.1.2).</summary>
/// <param name="Name">Whose records: <c>_mqtt._tcp.local</c>.</param>
/// <param name="Type">Which of them; 255 for all.</param>
internal readonly record struct DnsQuestion(string Name, ushort Type);

/// <summary>A record of a DNS message (RFC 1035 section 4.1.3).</summary>
/// <param name="Name">Whose.</param>
/// <param name="Type">Of which type.</param>
/// <param name="Data">What it says.</param>
/// <param name="Seconds">How long it may be kept.</param>
/// <param name="IsUnique">Whether nobody else has records of this name (RFC 6762 section 10.2).</param>
internal sealed record DnsRecord(string Name, ushort Type, byte[] Data, uint Seconds, bool IsUnique);

/// <summary>DNS messages as multicast DNS sends them (RFC 1035 section 4, RFC 6762). What cannot be read is no question.</summary>
internal static class DnsWire
{
    public const ushort A = 1;
    public const ushort Ptr = 12;
    public const ushort Txt = 16;
    public const ushort Srv = 33;
    public const ushort Any = 255;

    private const int HeaderLength = 12;
    private const int QuestionsMax = 50;
    private const int LabelMax = 63;
    private const int NameMax = 255;
    private const ushort In = 1;
    private const ushort Unique = 0x8000;
    private const ushort Answer = 0x8400;

    /// <summary>The questions of a message; none of an answer, and none of what is no DNS message.</summary>
    public static IReadOnlyList<DnsQuestion> Questions(ReadOnlySpan<byte> message)
    {
        var questions = new List<DnsQuestion>();
        if (message.Length < HeaderLength || (message[2] & 0x80) != 0)
        {
            return questions;
        }

        var (count, at) = (BinaryPrimitives.ReadUInt16BigEndian(message[4..]), HeaderLength);
        for (var i = 0; i < Math.Min(count, (ushort)QuestionsMax); i++)
        {
            if (Name(message, ref at) is not { } name || at + 4 > message.Length)
            {
                return questions;
            }

            questions.Add(new(name, BinaryPrimitives.ReadUInt16BigEndian(message[at..])));
            at += 4;
        }

        return questions;
    }

    /// <summary>An answer. One to a plain DNS client has its number and its question again (RFC 6762 section 6.7).</summary>
    public static byte[] Response(IReadOnlyList<DnsRecord> answers, IReadOnlyList<DnsRecord> more, ushort id = 0, DnsQuestion? asked = null)
    {
        var message = new List<byte>();
        foreach (var number in (int[])[id, Answer, asked is null ? 0 : 1, answers.Count, 0, more.Count])
        {
            Add(message, (ushort)number);
        }

        if (asked is { } question)
        {
            message.AddRange(Name(question.Name));
            Add(message, question.Type);
            Add(message, In);
        }

        foreach (var record in answers.Concat(more))
        {
            message.AddRange(Name(record.Name));
            Add(message, record.Type);
            Add(message, (ushort)(record.IsUnique && asked is null ? In | Unique : In));
            Add(message, (ushort)(record.Seconds >> 16));
            Add(message, (ushort)(record.Seconds & 0xFFFF));
            Add(message, (ushort)record.Data.Length);
            message.AddRange(record.Data);
        }

        return [.. message];
    }

    /// <summary>A name as it stands in a message. A dot inside a label is written <c>\.</c>.</summary>
    public static byte[] Name(string name)
    {
        var bytes = new List<byte>();
        foreach (var label in Labels(name))
        {
            var text = Encoding.UTF8.GetBytes(label);
            text = text[..Math.Min(text.Length, LabelMax)];
            bytes.Add((byte)text.Length);
            bytes.AddRange(text);
        }

        return [.. bytes, 0];
    }

    private static IEnumerable<string> Labels(string name) =>
        name.Replace("\\.", "\u0001", StringComparison.Ordinal).Split('.', StringSplitOptions.RemoveEmptyEntries)
            .Select(label => label.Replace('\u0001', '.'));

    private static string? Name(ReadOnlySpan<byte> message, ref int at)
    {
        var (labels, here, length, hasJumped) = (new List<string>(), at, 0, false);
        for (var steps = 0; steps < NameMax && here < message.Length; steps++)
        {
            int size = message[here];
            if (size == 0)
            {
                at = hasJumped ? at : here + 1;
                return string.Join('.', labels);
            }

            // A pointer to where the rest of the name stands (RFC 1035 section 4.1.4).
            if ((size & 0xC0) == 0xC0 && here + 1 < message.Length)
            {
                at = hasJumped ? at : here + 2;
                (hasJumped, here) = (true, ((size & 0x3F) << 8) | message[here + 1]);
                continue;
            }

            length += size + 1;
            if (size > LabelMax || here + 1 + size > message.Length || length > NameMax)
            {
                return null;
            }

            labels.Add(Encoding.UTF8.GetString(message.Slice(here + 1, size)).Replace(".", "\\.", StringComparison.Ordinal));
            here += size + 1;
        }

        return null;
    }

    private static void Add(List<byte> message, ushort number)
    {
        message.Add((byte)(number >> 8));
        message.Add((byte)(number & 0xFF));
    }
}
