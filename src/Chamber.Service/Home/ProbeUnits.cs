using System.Collections.Concurrent;
using Chamber.Core.Climate;

namespace Chamber.Service.Home;

/// <summary>
/// The units that people chose on the page for probes that do not declare theirs, kept in the ledger. Asked for every message, so it
/// answers from memory.
/// </summary>
internal sealed class ProbeUnits(IHomeStore store)
{
    private const string Prefix = "probe-unit/";

    private readonly Lazy<ConcurrentDictionary<ProbeId, DeclaredUnit>> told = new(() => new(
        from setting in AtOnce.Of(store.HomeAsync()).Home.Settings
        where setting.Key.StartsWith(Prefix, StringComparison.Ordinal)
        select KeyValuePair.Create(new ProbeId(setting.Key[Prefix.Length..]),
            setting.Value == "F" ? DeclaredUnit.Fahrenheit : DeclaredUnit.Celsius)));

    /// <summary>Null where nobody said: then what its topic or payload declares holds.</summary>
    public DeclaredUnit? Of(ProbeId probe) => told.Value.GetValueOrDefault(probe);

    /// <summary>From the next message on the probe's temperature is taken in this unit.</summary>
    /// <param name="choose">Writes it down under a name, for whoever told it.</param>
    /// <param name="probe">Which probe.</param>
    /// <param name="unit">The unit.</param>
    public void Tell(Action<string, string?> choose, ProbeId probe, DeclaredUnit unit)
    {
        choose(Prefix + probe.Text, unit == DeclaredUnit.Fahrenheit ? "F" : "C");
        told.Value[probe] = unit;
    }
}
