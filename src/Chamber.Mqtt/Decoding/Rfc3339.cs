using NodaTime;

namespace Chamber.Mqtt.Decoding;

/// <summary>
/// Reads a date and time by RFC 3339 (Klyne &amp; Newman 2002, section 5.6) straight from bytes, because it is in nearly every
/// message. The offset is required: a local time without one is ambiguous twice a year. A leap second counts as the next one.
/// </summary>
internal static class Rfc3339
{
    private const int ShortestLength = 20;
    private const int FractionDigitsMax = 9;

    // The years 1 to 9999: an offset, or a leap second, may lead out of them.
    private const long EarliestSecond = -62_135_596_800;
    private const long LatestSecond = 253_402_300_799;

    public static bool TryParse(ReadOnlySpan<byte> text, out Instant instant)
    {
        instant = default;
        if (text.Length < ShortestLength || text[4] != '-' || text[7] != '-' || text[13] != ':' || text[16] != ':'
            || !IsDateTimeSeparator(text[10]))
        {
            return false;
        }

        if (!Digits(text, 0, 4, out var year) || !Digits(text, 5, 2, out var month) || !Digits(text, 8, 2, out var day)
            || !Digits(text, 11, 2, out var hour) || !Digits(text, 14, 2, out var minute) || !Digits(text, 17, 2, out var second))
        {
            return false;
        }

        if (year < 1 || month is < 1 or > 12 || day < 1 || day > DateTime.DaysInMonth(year, month) || hour > 23
            || minute > 59 || second > 60)
        {
            return false;
        }

        var rest = text[19..];
        if (!Fraction(ref rest, out var nanoseconds) || !Offset(rest, out var offsetMinutes))
        {
            return false;
        }

        var seconds = DaysFromEpoch(year, month, day) * 86_400L + hour * 3_600 + (minute - offsetMinutes) * 60 + second;
        if (seconds is < EarliestSecond or > LatestSecond)
        {
            return false;
        }

        instant = Instant.FromUnixTimeSeconds(seconds).PlusNanoseconds(nanoseconds);
        return true;
    }

    // RFC 3339 section 5.6: 'T' may be lower case, and a space for readability.
    private static bool IsDateTimeSeparator(byte value) => value is (byte)'T' or (byte)'t' or (byte)' ';

    private static bool Digits(ReadOnlySpan<byte> text, int start, int count, out int value)
    {
        value = 0;
        foreach (var digit in text.Slice(start, count))
        {
            if (!char.IsAsciiDigit((char)digit))
            {
                return false;
            }

            value = value * 10 + (digit - '0');
        }

        return true;
    }

    private static bool Fraction(ref ReadOnlySpan<byte> rest, out long nanoseconds)
    {
        nanoseconds = 0;
        if (rest[0] != '.')
        {
            return true;
        }

        var length = 1;
        var weight = 100_000_000;
        while (length < rest.Length && char.IsAsciiDigit((char)rest[length]))
        {
            if (length <= FractionDigitsMax)
            {
                nanoseconds += (rest[length] - '0') * (long)weight;
                weight /= 10;
            }

            length++;
        }

        rest = rest[length..];
        return length > 1;
    }

    private static bool Offset(ReadOnlySpan<byte> rest, out int minutes)
    {
        minutes = 0;
        if (rest is [(byte)'Z' or (byte)'z'])
        {
            return true;
        }

        if (rest.Length != 6 || rest[3] != ':' || rest[0] is not ((byte)'+' or (byte)'-')
            || !Digits(rest, 1, 2, out var hours) || !Digits(rest, 4, 2, out var past) || hours > 23 || past > 59)
        {
            return false;
        }

        minutes = (rest[0] == '-' ? -1 : 1) * (hours * 60 + past);
        return true;
    }

    private static int DaysFromEpoch(int year, int month, int day) =>
        new DateOnly(year, month, day).DayNumber - EpochDay;

    private static readonly int EpochDay = new DateOnly(1970, 1, 1).DayNumber;
}
