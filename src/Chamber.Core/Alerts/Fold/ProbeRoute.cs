using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Fold;

/// <summary>At which locations the readings of a probe are folded, by the time of measurement.</summary>
internal sealed class ProbeRoute
{
    private readonly LocationFold alone;
    private readonly (Moment From, Moment To, LocationFold Location)[] stays;

    public ProbeRoute(LocationFold alone, IEnumerable<(Interval When, LocationFold Location)> stays)
    {
        this.alone = alone;
        // The newest first: nearly every reading is of the present station.
        this.stays = [.. stays.Select(stay => (Moment.StartOf(stay.When), Moment.EndOf(stay.When), stay.Location))
            .OrderByDescending(stay => stay.Item1)];
    }

    public LocationFold At(Moment at)
    {
        foreach (var (from, to, location) in stays)
        {
            if (at >= from && at < to)
            {
                return location;
            }
        }

        return alone;
    }
}
