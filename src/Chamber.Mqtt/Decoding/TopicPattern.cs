using System.Diagnostics.CodeAnalysis;

namespace Chamber.Mqtt.Decoding;

/// <summary>
/// A topic filter of MQTT (version 5.0, OASIS 2019, section 4.7) in which one level may be <c>{probe}</c>: it matches like
/// <c>+</c>, and what is there names the probe.
/// </summary>
internal sealed class TopicPattern
{
    private const string ProbeLevel = "{probe}";

    private readonly string[] levels;
    private readonly int probeIndex;

    private TopicPattern(string[] levels)
    {
        this.levels = levels;
        probeIndex = Array.IndexOf(levels, ProbeLevel);
        Filter = string.Join('/', levels.Select(level => level == ProbeLevel ? "+" : level));
    }

    /// <summary>What to subscribe to.</summary>
    public string Filter { get; }

    public bool NamesProbe => probeIndex >= 0;

    public static bool TryParse(string? text, [NotNullWhen(true)] out TopicPattern? pattern, [NotNullWhen(false)] out string? error)
    {
        pattern = null;
        error = null;
        if (string.IsNullOrEmpty(text) || text.Contains('\0', StringComparison.Ordinal))
        {
            error = "the topic is empty";
            return false;
        }

        var levels = text.Split('/');
        if (levels.Count(level => level == ProbeLevel) > 1)
        {
            error = "the topic names {probe} more than once";
        }
        else if (levels.Any(level => level.Contains('+', StringComparison.Ordinal) && level.Length > 1))
        {
            error = "+ stands for a whole level of a topic";
        }
        else if (levels[..^1].Any(level => level.Contains('#', StringComparison.Ordinal))
            || (levels[^1].Contains('#', StringComparison.Ordinal) && levels[^1].Length > 1))
        {
            error = "# stands alone and last in a topic";
        }
        else if (levels.Any(level => level != ProbeLevel && level.AsSpan().IndexOfAny('{', '}') >= 0))
        {
            error = "{probe} stands for a whole level of a topic";
        }

        pattern = error is null ? new(levels) : null;
        return error is null;
    }

    /// <summary>Whether a topic matches; then also the level that names the probe, empty when none does.</summary>
    public bool Matches(ReadOnlySpan<char> topic, out ReadOnlySpan<char> probe)
    {
        probe = default;

        // MQTT 5.0 section 4.7.2: a leading wildcard matches no topic that starts with $.
        if (topic.Length > 0 && topic[0] == '$' && levels[0] is "+" or "#" or ProbeLevel)
        {
            return false;
        }

        for (var index = 0; index < levels.Length; index++)
        {
            if (levels[index] == "#")
            {
                return true;
            }

            var slash = topic.IndexOf('/');
            var level = slash < 0 ? topic : topic[..slash];
            if (index == probeIndex)
            {
                probe = level;
            }
            else if (levels[index] != "+" && !level.SequenceEqual(levels[index]))
            {
                return false;
            }

            if (slash < 0)
            {
                // "a/#" also matches "a" (section 4.7.1.2).
                return index == levels.Length - 1 || (index == levels.Length - 2 && levels[^1] == "#");
            }

            topic = topic[(slash + 1)..];
        }

        return false;
    }
}
