namespace Chamber.Mqtt.Broker;

/// <summary>What a user of the built-in broker may write and read, as topic filters (MQTT 5.0, section 4.7).</summary>
/// <param name="Writes">Topics to which it may publish.</param>
/// <param name="Reads">Topics to which it may subscribe.</param>
public sealed record AccountRights(IReadOnlyList<string> Writes, IReadOnlyList<string> Reads)
{
    private const string Rest = "#";
    private const string Any = "+";

    /// <summary>Whoever is on this machine, and a user from before there were rights.</summary>
    public static AccountRights All { get; } = new([Rest], [Rest]);

    /// <summary>A user that there is not.</summary>
    public static AccountRights None { get; } = new([], []);

    /// <summary>Whether it may write and read everything.</summary>
    public bool IsAll => Writes.Contains(Rest) && Reads.Contains(Rest);

    /// <summary>A sensor's account: it writes the topics of the probe that has its name, and reads nothing.</summary>
    /// <param name="user">The name of the account and of the probe.</param>
    public static AccountRights OfProbe(string user) => new([$"chamber/{user}/#"], []);

    /// <summary>Whether it may publish to a topic.</summary>
    public bool MayWrite(string topic) => Writes.Any(filter => Covers(filter, topic));

    /// <summary>Whether it may subscribe to a filter: to all that the filter can match.</summary>
    public bool MayRead(string asked) => Reads.Any(filter => Covers(filter, asked));

    /// <summary>Returns a topic filter that can be used.</summary>
    /// <exception cref="FormatException">It cannot; the message says the fix.</exception>
    public static string Require(string filter)
    {
        var levels = filter.Split('/');
        var last = levels.Length - 1;
        return filter.Length > 0 && !filter.Any(char.IsControl)
            && levels.Index().All(level =>
                level.Item == Any || (level.Item == Rest && level.Index == last) || level.Item.IndexOfAny(['+', '#']) < 0)
            ? filter
            : throw new FormatException($"\"{filter}\" is no topic filter: write a topic such as chamber/shelf/reading, + in it for any one "
                + $"level, or # at its end for all the rest.");
    }

    // Level by level; what is asked may have wildcards too, and must not match more than the filter does.
    private static bool Covers(string filter, string asked)
    {
        var (allowed, wanted) = (filter.Split('/'), asked.Split('/'));
        for (var i = 0; i < allowed.Length; i++)
        {
            if (allowed[i] == Rest)
            {
                // "a/#" stands for "a" too.
                return wanted.Length >= i;
            }

            if (i >= wanted.Length || wanted[i] == Rest || (allowed[i] != Any && allowed[i] != wanted[i]))
            {
                return false;
            }
        }

        return allowed.Length == wanted.Length;
    }
}
