using System.Diagnostics.CodeAnalysis;

namespace Chamber.Mqtt.Decoding;

/// <summary>What resolved SenML names stand for: whole names, and names in which <c>{probe}</c> stands for the probe.</summary>
internal sealed class SenmlNames
{
    private const string Placeholder = "{probe}";

    private readonly Dictionary<string, SenmlName> whole = new(StringComparer.Ordinal);
    private readonly List<(string Before, string After, SenmlName Name)> patterns = [];

    public SenmlNames(IReadOnlyDictionary<string, SenmlName> names)
    {
        foreach (var (text, name) in names)
        {
            var at = text.IndexOf(Placeholder, StringComparison.Ordinal);
            if (at < 0)
            {
                whole.Add(text, name);
            }
            else
            {
                patterns.Add((text[..at], text[(at + Placeholder.Length)..], name));
            }
        }
    }

    public bool TryResolve(
        string text, ProbeMemory? topicProbe, ProbeRegister probes,
        [NotNullWhen(true)] out ProbeMemory? probe, [NotNullWhen(true)] out SenmlName? name)
    {
        probe = null;
        if (!TryFind(text, out name, out var spelled))
        {
            return false;
        }

        if (name.Probe is null && spelled.IsEmpty)
        {
            probe = topicProbe;
            return probe is not null;
        }

        return probes.TryGet(name.Probe ?? spelled, out probe);
    }

    private bool TryFind(string text, [NotNullWhen(true)] out SenmlName? name, out ReadOnlySpan<char> spelled)
    {
        spelled = default;
        if (whole.TryGetValue(text, out name))
        {
            return true;
        }

        foreach (var (before, after, candidate) in patterns)
        {
            if (text.Length > before.Length + after.Length && text.StartsWith(before, StringComparison.Ordinal)
                && text.EndsWith(after, StringComparison.Ordinal))
            {
                name = candidate;
                spelled = text.AsSpan(before.Length, text.Length - before.Length - after.Length);
                return true;
            }
        }

        return false;
    }
}
