using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts.Probes;

/// <summary>
/// A probe was put on a spot. Where it stood before ends then. At a time before it stood anywhere it stands there until it is known
/// to have stood elsewhere; where that is the same spot, it stood there since then.
/// </summary>
/// <param name="Probe">Which probe.</param>
/// <param name="Spot">Where it stands.</param>
public sealed record ProbePlaced(ProbeId Probe, SpotId Spot) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Probe), FactSubject.Of(Spot)];

    public override string Words(ShownNames names) => $"probe {names.Of(Probe)} put on {names.Of(Spot)}";

    internal override void Apply(HomeFold home, Instant at)
    {
        home.Require(Probe);
        home.Require(Spot);
        FactRefusedException.When(WithinBounds.WhyNot(at), "at");
        var stations = home.Stations.GetValueOrDefault(Probe) ?? [];
        Instant? until = null;
        if (stations.FirstOrDefault(one => one.When.Start >= at) is { } next && (next.Spot == Spot || next.When.Start > at))
        {
            until = next.Spot != Spot ? next.When.Start : next.When.HasEnd ? next.When.End : null;
            stations = next.Spot == Spot ? [.. stations.Where(one => one != next)] : stations;
        }
        else
        {
            stations = Standings.Left(stations, Probe, at);
        }

        home.Stations[Probe] = Standings.With(stations, new(Probe, Spot, new(at, until)));
    }
}

/// <summary>A probe was taken away from where it stood.</summary>
/// <param name="Probe">Which probe.</param>
public sealed record ProbeTakenAway(ProbeId Probe) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Probe)];

    public override string Words(ShownNames names) => $"probe {names.Of(Probe)} taken away";

    internal override void Apply(HomeFold home, Instant at)
    {
        home.Require(Probe);
        FactRefusedException.When(WithinBounds.WhyNot(at), "at");
        var stations = home.Stations.GetValueOrDefault(Probe) ?? [];
        FactRefusedException.When(stations.All(one => one.When.HasEnd), $"Probe \"{Probe}\" stands nowhere.");
        home.Stations[Probe] = Standings.Left(stations, Probe, at);
    }
}

/// <summary>A probe stood on a spot, written down after the fact.</summary>
/// <param name="Probe">Which probe.</param>
/// <param name="Spot">Where it stood.</param>
/// <param name="Until">When it left; null while it stands there.</param>
public sealed record ProbeStood(ProbeId Probe, SpotId Spot, Instant? Until = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Probe), FactSubject.Of(Spot)];

    public override string Words(ShownNames names) => $"probe {names.Of(Probe)} stood on {names.Of(Spot)}";

    internal override void Apply(HomeFold home, Instant at)
    {
        home.Require(Probe);
        home.Require(Spot);
        FactRefusedException.When(Until <= at, $"Probe \"{Probe}\" cannot leave before it came.", "until");
        FactRefusedException.When(WithinBounds.WhyNot(new Interval(at, Until)), "at");
        home.Stations[Probe] = Standings.With(home.Stations.GetValueOrDefault(Probe) ?? [], new(Probe, Spot, new(at, Until)));
    }
}
