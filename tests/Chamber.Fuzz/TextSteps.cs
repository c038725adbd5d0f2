using System.Globalization;
using System.Text;

namespace Chamber.Fuzz;

/// <summary>Steps by tokens and lines: words, numbers and signs change places, numbers go to their bounds, parts are nested, repeated or
/// written in another encoding.</summary>
internal sealed class TextSteps : IStructuredSteps
{
    private const int RepeatMax = 40;

    private static readonly byte[][] Numbers = [.. new[]
    {
        "0", "-0", "1", "-1", "0.5", "1e3", "99", "100", "101", "-40", "125", "-90.1", "150.1", "1000", "1001", "10000", "1970", "2201",
        "253402300799999", "1795600740", "127", "255", "32768", "65536", "2147483647", "2147483648", "9223372036854775807",
        "9223372036854775808", "99999999999999999999", "0.1", "0.30000000000000004", "1e308", "00", "+1", ".5", "5.", "1e-320",
    }.Select(Encoding.UTF8.GetBytes)];

    private static readonly (byte[] Before, byte[] After)[] Wraps =
        [("["u8.ToArray(), "]"u8.ToArray()), ("{\"a\":"u8.ToArray(), "}"u8.ToArray()), ("\""u8.ToArray(), "\""u8.ToArray())];

    private readonly byte[][] words;

    /// <summary>With the words and numbers of all samples.</summary>
    public TextSteps(IEnumerable<byte[]> samples)
    {
        words = [.. samples.SelectMany(sample => Tokens(sample).Select(token => Encoding.Latin1.GetString(sample[token])))
            .Distinct(StringComparer.Ordinal).Select(Encoding.Latin1.GetBytes)];
    }

    public void Step(List<byte> bytes, Random random)
    {
        var tokens = Tokens(bytes);
        if (tokens.Count == 0)
        {
            bytes.AddRange(words[random.Next(words.Length)]);
            return;
        }

        var (from, length) = tokens[random.Next(tokens.Count)].GetOffsetAndLength(bytes.Count);
        switch (random.Next(9))
        {
            case 0:
                Put(bytes, from, length, words[random.Next(words.Length)]);
                break;
            case 1:
                var numbers = tokens.FindAll(token => IsDigit(bytes[token.Start]));
                if (numbers.Count > 0)
                {
                    var number = numbers[random.Next(numbers.Count)].GetOffsetAndLength(bytes.Count);
                    Put(bytes, number.Offset, number.Length, Numbers[random.Next(Numbers.Length)]);
                }

                break;
            case 2:
                Swap(bytes, tokens[random.Next(tokens.Count)], tokens[random.Next(tokens.Count)]);
                break;
            case 3:
                bytes.RemoveRange(from, length);
                break;
            case 4:
                var (before, after) = Wraps[random.Next(Wraps.Length)];
                var (last, lastLength) = tokens[random.Next(tokens.Count)].GetOffsetAndLength(bytes.Count);
                bytes.InsertRange(Math.Max(from + length, last + lastLength), after);
                bytes.InsertRange(Math.Min(from, last), before);
                break;
            case 5:
                var token = bytes.GetRange(from, length);
                bytes.InsertRange(from, Enumerable.Repeat(token, 1 + random.Next(RepeatMax)).SelectMany(one => one));
                break;
            case 6:
                Put(bytes, from, length, Encoded(bytes.GetRange(from, length), random));
                break;
            default:
                Lines(bytes, random);
                break;
        }
    }

    // A line doubled, dropped, or put at another line's place.
    private static void Lines(List<byte> bytes, Random random)
    {
        var (from, to) = LineAt(bytes, random.Next(bytes.Count));
        var line = bytes.GetRange(from, to - from);
        if (random.Next(3) > 0)
        {
            bytes.RemoveRange(from, to - from);
        }

        if (random.Next(3) > 0)
        {
            var at = bytes.Count == 0 ? 0 : LineAt(bytes, random.Next(bytes.Count)).From;
            bytes.InsertRange(at, line);
        }
    }

    private static (int From, int To) LineAt(List<byte> bytes, int at)
    {
        var from = at == 0 ? 0 : bytes.LastIndexOf((byte)'\n', at - 1) + 1;
        var end = bytes.IndexOf((byte)'\n', at);
        return (from, end < 0 ? bytes.Count : end + 1);
    }

    // As JSON writes a letter (RFC 8259, section 7), or an address (RFC 3986, section 2.1).
    private static byte[] Encoded(List<byte> token, Random random) => Encoding.ASCII.GetBytes(random.Next(2) == 0
        ? string.Concat(token.Select(letter => string.Create(CultureInfo.InvariantCulture, $"\\u{letter:X4}")))
        : string.Concat(token.Select(letter => string.Create(CultureInfo.InvariantCulture, $"%{letter:X2}"))));

    private static void Put(List<byte> bytes, int from, int length, byte[] instead)
    {
        bytes.RemoveRange(from, length);
        bytes.InsertRange(from, instead);
    }

    private static void Swap(List<byte> bytes, Range one, Range other)
    {
        var (first, second) = one.Start.Value <= other.Start.Value ? (one, other) : (other, one);
        var (from, length) = first.GetOffsetAndLength(bytes.Count);
        var (later, laterLength) = second.GetOffsetAndLength(bytes.Count);
        var (left, right) = (bytes.GetRange(from, length), bytes.GetRange(later, laterLength));
        Put(bytes, later, laterLength, [.. left]);
        Put(bytes, from, length, [.. right]);
    }

    // A word, a number with its sign and point, or one other letter; blanks are none.
    private static List<Range> Tokens(IReadOnlyList<byte> bytes)
    {
        var tokens = new List<Range>();
        for (var at = 0; at < bytes.Count;)
        {
            var from = at++;
            if (IsDigit(bytes[from]))
            {
                while (at < bytes.Count && (IsDigit(bytes[at]) || bytes[at] == '.'))
                {
                    at++;
                }
            }
            else if (IsLetter(bytes[from]))
            {
                while (at < bytes.Count && (IsLetter(bytes[at]) || bytes[at] == '-'))
                {
                    at++;
                }
            }

            if (bytes[from] > ' ')
            {
                tokens.Add(from..at);
            }
        }

        return tokens;
    }

    private static bool IsDigit(byte letter) => letter is >= (byte)'0' and <= (byte)'9';

    private static bool IsLetter(byte letter) =>
        letter is >= (byte)'a' and <= (byte)'z' or >= (byte)'A' and <= (byte)'Z' or (byte)'_' or > 127;
}
