using System.Collections.Concurrent;
using Chamber.Core.Climate;

namespace Chamber.Service.Home;

/// <summary>
/// The units that people chose on the page for probes that do not declare theirs, kept in the ledger. Asked for every message, so it
/// answers from memory.
/// </summary>
internal sealed class ProbeUnits(Func<IReadOnlyDictionary<string, string>> chosen)
{
    private const string Prefix = "probe-unit/";

    private readonly Lazy<ConcurrentDictionary<ProbeId, DeclaredUnit>> told = new(() => new(
        from setting in chosen()
        where setting.Key.StartsWith(Prefix, StringComparison.Ordinal)
        select KeyValuePair.Create(new ProbeId(setting.Key[Prefix.Length..]),
            setting.Value == "F" ? DeclaredUnit.Fahrenheit : DeclaredUnit.Celsius)));

    /// <summary>Null where nobody said: then what its topic or payload declares holds.</summary>
    public DeclaredUnit? Of(ProbeId probe) => told.Value.GetValueOrDefault(probe);

    /// <summary>Writes down in which unit the probe's temperature is.</summary>
    /// <param name="choose">Writes it down under a name, for whoever told it.</param>
    /// <param name="probe">Which probe.</param>
    /// <param name="unit">The unit.</param>
    public static void Choose(Action<string, string?> choose, ProbeId probe, DeclaredUnit unit) =>
        choose(Prefix + probe.Text, unit == DeclaredUnit.Fahrenheit ? "F" : "C");

    /// <summary>From the next message on it is taken so, as was written down.</summary>
    public void Tell(ProbeId probe, DeclaredUnit unit) => told.Value[probe] = unit;
}
