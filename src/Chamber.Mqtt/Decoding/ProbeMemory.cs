using System.Diagnostics.CodeAnalysis;
using Chamber.Core.Climate;

namespace Chamber.Mqtt.Decoding;

/// <summary>A probe that has been heard of, and its last believed temperature.</summary>
internal sealed class ProbeMemory(ProbeId id)
{
    public ProbeId Id { get; } = id;

    public TemperatureSample? Last { get; private set; }

    public void Remember(in Reading reading)
    {
        if (reading.Temperature is { } temperature && (Last is not { } last || reading.MeasuredAt >= last.At))
        {
            Last = new(reading.MeasuredAt, temperature);
        }
    }
}

/// <summary>The probes heard of so far. Bounded: a bridge that makes up names without end must not fill the memory.</summary>
internal sealed class ProbeRegister(int probesMax, Func<ProbeId, bool>? accepts)
{
    private readonly Dictionary<string, ProbeMemory> probes = new(StringComparer.Ordinal);

    private Dictionary<string, ProbeMemory>.AlternateLookup<ReadOnlySpan<char>> BySpan => probes.GetAlternateLookup<ReadOnlySpan<char>>();

    public int Count => probes.Count;

    public bool TryGet(ReadOnlySpan<char> name, [NotNullWhen(true)] out ProbeMemory? probe) =>
        BySpan.TryGetValue(name, out probe) || TryAdd(name.ToString(), out probe);

    private bool TryAdd(string name, [NotNullWhen(true)] out ProbeMemory? probe)
    {
        probe = null;
        if (!Core.Identifier.IsValid(name) || probes.Count >= probesMax)
        {
            return false;
        }

        var id = new ProbeId(name);
        if (accepts is not null && !accepts(id))
        {
            return false;
        }

        probe = new(id);
        probes.Add(name, probe);
        return true;
    }
}
