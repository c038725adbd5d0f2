using System.Diagnostics.CodeAnalysis;
using Chamber.Core.Climate;

namespace Chamber.Mqtt.Decoding;

/// <summary>
/// The mappings in force, compiled: Chamber's own topic first, then those of the configuration in their order. The first that
/// matches a topic decides. May be asked and changed from any thread.
/// </summary>
public sealed class TopicMap
{
    /// <summary>The topic of Chamber's own payload.</summary>
    public const string OwnTopic = "chamber/{probe}/reading";

    private static readonly TopicMapping Own = new() { Topic = OwnTopic, Form = PayloadForm.Chamber };

    private volatile List<CompiledMapping> mappings;

    private TopicMap(List<CompiledMapping> mappings) => this.mappings = mappings;

    /// <summary>Other mappings are in force from now on. Called on the thread of whoever changed them.</summary>
    public event Action? Changed;

    /// <summary>Only Chamber's own payload.</summary>
    public static TopicMap Default { get; } = Create([]);

    /// <summary>What to subscribe to, without repetitions.</summary>
    public IReadOnlyList<string> Filters => [.. mappings.Select(mapping => mapping.Pattern.Filter).Distinct(StringComparer.Ordinal)];

    /// <exception cref="FormatException">A mapping is wrong; the message names every fault.</exception>
    public static TopicMap Create(IReadOnlyList<TopicMapping> mappings) =>
        TryCreate(mappings, out var map, out var errors) ? map : throw new FormatException(string.Join(Environment.NewLine, errors));

    /// <summary>Compiles the mappings, or says all that is wrong with them: one sentence each, with the place and the fix.</summary>
    public static bool TryCreate(IReadOnlyList<TopicMapping> mappings, [NotNullWhen(true)] out TopicMap? map,
        out IReadOnlyList<string> errors)
    {
        ArgumentNullException.ThrowIfNull(mappings);
        var faults = new List<string>();
        var compiled = new List<CompiledMapping>();
        for (var index = 0; index < mappings.Count; index++)
        {
            var place = $"mappings[{index}] (topic \"{mappings[index].Topic}\")";
            if (CompiledMapping.Compile(mappings[index], fault => faults.Add($"{place}: {fault}")) is { } one)
            {
                compiled.Add(one);
            }
        }

        // The own topic can be overridden, for instance to confirm its unit or to rename probes.
        if (!compiled.Exists(mapping => mapping.Pattern.Filter == "chamber/+/reading"))
        {
            compiled.Insert(0, CompiledMapping.Compile(Own, _ => { })!);
        }

        errors = faults;
        map = faults.Count == 0 ? new(compiled) : null;
        return map is not null;
    }

    /// <summary>What was resolved holds as long as this is the same.</summary>
    internal object State => mappings;

    /// <summary>From the next message on these mappings are in force.</summary>
    /// <exception cref="FormatException">One is wrong, and nothing was changed; the message names every fault.</exception>
    public void Change(IReadOnlyList<TopicMapping> other)
    {
        mappings = Create(other).mappings;
        Changed?.Invoke();
    }

    /// <summary>Whether any mapping knows the topic.</summary>
    public bool Knows(string topic)
    {
        ArgumentNullException.ThrowIfNull(topic);
        return mappings.Exists(mapping => mapping.Pattern.Matches(topic, out _));
    }

    internal TopicRoute Resolve(string topic, ProbeRegister probes)
    {
        foreach (var mapping in mappings)
        {
            if (mapping.Pattern.Matches(topic, out var level))
            {
                return mapping.Route(level, probes);
            }
        }

        return new(null, null, RefusalReason.UnknownTopic);
    }
}
