using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts.Spots;

/// <summary>A spot has another name from now on; all that was written down under the former one is its own.</summary>
/// <param name="From">Its name until now.</param>
/// <param name="To">Its name from now on; free until now.</param>
public sealed record SpotRenamed(SpotId From, SpotId To) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(To)];

    public override string Words(ShownNames names) => $"spot {From} is called {To}";

    internal override void Apply(HomeFold home, Instant at)
    {
        home.Require(From);
        HomeFold.RequireFree(FactSubject.Of(To), home.Spots.ContainsKey(To));
        HomeFold.Rename(home.Spots, From, To, spot => spot with { Id = To });
        foreach (var (probe, stations) in home.Stations.ToList())
        {
            home.Stations[probe] = [.. stations.Select(one => one.Spot == From ? one with { Spot = To } : one)];
        }

        foreach (var batch in home.Batches.Values.Where(batch => batch.Stays.Any(stay => stay.Spot == From)).ToList())
        {
            home.Batches[batch.Id] = batch with { Stays = [.. batch.Stays.Select(stay => stay.Spot == From ? stay with { Spot = To }
                : stay)] };
        }

        for (var i = 0; i < home.Work.Count; i++)
        {
            home.Work[i] = home.Work[i].Spot == From ? home.Work[i] with { Spot = To } : home.Work[i];
        }

        home.Rename(FactSubject.Of(From), FactSubject.Of(To));
    }
}
