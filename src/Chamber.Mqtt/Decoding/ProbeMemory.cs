using System.Diagnostics.CodeAnalysis;
using Chamber.Core.Climate;

namespace Chamber.Mqtt.Decoding;

/// <summary>A probe that has been heard of, and its last believed temperature.</summary>
/// <param name="id">Which probe.</param>
/// <param name="last">What the journal knows of it, so that a restart changes nothing in what is believed; null when it never
/// spoke.</param>
internal sealed class ProbeMemory(ProbeId id, TemperatureSample? last = null)
{
    private ArrivalRun run;

    public ProbeId Id { get; } = id;

    public TemperatureSample? Last { get; private set; } = last;

    /// <summary>The reading, in a millisecond of its own when it is dated by its arrival; see <see cref="ArrivalRun"/>.</summary>
    public Reading Apart(in Reading reading) => reading.Clock == ClockSource.Payload ? reading : run.Apart(reading);

    /// <summary>Takes in what was believed. Something that was stored and sent late does not replace what is newer, unless that lies ahead
    /// of the present.</summary>
    public void Remember(in Reading reading)
    {
        if (reading.Temperature is { } temperature
            && (Last?.NoLaterThan(reading.ReceivedAt) is not { } known || reading.MeasuredAt >= known.At))
        {
            Last = new(reading.MeasuredAt, temperature);
        }
    }
}

/// <summary>
/// The probes heard of so far. Bounded: a bridge that makes up names without end must not fill the memory. Probes that were set up are
/// outside the bound, so that made-up names never lock one of them out.
/// </summary>
internal sealed class ProbeRegister(DecoderOptions options)
{
    private readonly Dictionary<string, ProbeMemory> probes = new(StringComparer.Ordinal);
    private int strangers;

    private Dictionary<string, ProbeMemory>.AlternateLookup<ReadOnlySpan<char>> BySpan => probes.GetAlternateLookup<ReadOnlySpan<char>>();

    public int Count => probes.Count;

    public bool TryGet(ReadOnlySpan<char> name, [NotNullWhen(true)] out ProbeMemory? probe) =>
        BySpan.TryGetValue(name, out probe) || TryAdd(name.ToString(), out probe);

    private bool TryAdd(string name, [NotNullWhen(true)] out ProbeMemory? probe)
    {
        probe = null;
        if (!Core.Identifier.IsValid(name))
        {
            return false;
        }

        var id = new ProbeId(name);
        var isSetUp = options.IsSetUp?.Invoke(id) == true;
        if (!isSetUp && (strangers >= options.ProbesMax || options.AcceptsProbe?.Invoke(id) == false))
        {
            return false;
        }

        probe = new(id, options.LastTemperature?.Invoke(id));
        probes.Add(name, probe);
        strangers += isSetUp ? 0 : 1;
        return true;
    }
}
