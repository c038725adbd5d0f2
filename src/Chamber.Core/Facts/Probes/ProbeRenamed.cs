using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Facts.Probes;

/// <summary>A probe has another name from now on; its readings and all that was written down under the former one are its own.</summary>
/// <param name="From">Its name until now.</param>
/// <param name="To">Its name from now on; free until now.</param>
public sealed record ProbeRenamed(ProbeId From, ProbeId To) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(To)];

    public override string Words(ShownNames names) => $"probe {From} is called {To}";

    internal override void Apply(HomeFold home, Instant at)
    {
        home.Require(From);
        HomeFold.RequireFree(FactSubject.Of(To), home.Probes.ContainsKey(To));
        HomeFold.Rename(home.Probes, From, To, entry => entry with { Probe = entry.Probe with { Id = To } });
        HomeFold.Rename(home.Stations, From, To, stations => [.. stations.Select(one => one with { Probe = To })]);
        HomeFold.Rename(home.Calibrations, From, To, known => [.. known.Select(one => one with { Probe = To })]);
        HomeFold.Rename(home.SetAside, From, To, known => [.. known.Select(one => one with { Probe = To })]);
        home.Rename(FactSubject.Of(From), FactSubject.Of(To));
    }
}
