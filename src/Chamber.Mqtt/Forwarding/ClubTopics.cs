namespace Chamber.Mqtt.Forwarding;

/// <summary>The topics at a club's broker: each home has its own branch, and from there on they are as at home.</summary>
public static class ClubTopics
{
    /// <summary>What the branches of all homes start with; the home's name follows.</summary>
    public const string Branch = "homes/";

    /// <summary>Under a home's branch: readings that the home's own Chamber sends, in packets that it numbers.</summary>
    public const string Forwarded = "forwarded/";

    /// <summary>A number of a packet is longer than this: it is none.</summary>
    public const int NumberLengthMax = 40;

    /// <summary>Where a home sends a packet of readings.</summary>
    public static string Packet(string home, string number) => $"{Branch}{home}/{Forwarded}{number}";

    /// <summary>Where the club says which packets of a home it has: their numbers, with a blank between them. Not retained, and outside the
    /// branch of the home, so that it is no message of the home.</summary>
    public static string Confirmed(string home) => $"confirmed/{home}";

    /// <summary>The number of a packet in a topic below the home's branch.</summary>
    public static bool TryNumber(string topic, out string number)
    {
        ArgumentNullException.ThrowIfNull(topic);
        number = topic.StartsWith(Forwarded, StringComparison.Ordinal) ? topic[Forwarded.Length..] : "";
        return number.Length is > 0 and <= NumberLengthMax && number.All(letter => char.IsAsciiLetterOrDigit(letter) || letter == '-');
    }
}
