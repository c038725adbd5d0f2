using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Fold;

/// <summary>At which places the readings of a probe are folded, by the time of measurement.</summary>
internal sealed class ProbeRoute
{
    private readonly PlaceFold alone;
    private readonly (Moment From, Moment To, PlaceFold Place)[] stays;

    public ProbeRoute(PlaceFold alone, IEnumerable<(Interval When, PlaceFold Place)> stays)
    {
        this.alone = alone;
        // The newest first: nearly every reading is of the present station.
        this.stays = [.. stays.Select(stay => (Moment.StartOf(stay.When), Moment.EndOf(stay.When), stay.Place))
            .OrderByDescending(stay => stay.Item1)];
    }

    public PlaceFold At(Moment at)
    {
        foreach (var (from, to, place) in stays)
        {
            if (at >= from && at < to)
            {
                return place;
            }
        }

        return alone;
    }
}
