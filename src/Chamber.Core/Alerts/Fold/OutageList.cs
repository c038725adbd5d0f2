using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Fold;

/// <summary>The times in which silence at a location proves nothing.</summary>
internal sealed class OutageList
{
    private readonly (Moment From, Moment To)[] spans;

    private OutageList(IEnumerable<Interval> spans) =>
        this.spans = [.. spans.Select(when => (Moment.StartOf(when), Moment.EndOf(when))).Order()];

    /// <summary>Those of the whole home, and those in which somebody works on this location.</summary>
    public static OutageList Of(Location location, HomeFacts facts) => new(
        facts.Outages.Select(outage => outage.When)
            .Concat(facts.Maintenance.Where(work => work.Spot is null || work.Spot == location.Spot).Select(work => work.When)));

    /// <summary>The first moment from which the two say different things of when silence is excused; never when they agree.</summary>
    public static Moment FirstDifference(HomeFacts one, HomeFacts other)
    {
        var outages = new HashSet<Outage>(one.Outages);
        outages.SymmetricExceptWith(other.Outages);
        var works = new HashSet<Maintenance>(one.Maintenance);
        works.SymmetricExceptWith(other.Maintenance);
        return outages.Select(outage => outage.When).Concat(works.Select(work => work.When)).Select(Moment.StartOf)
            .DefaultIfEmpty(Moment.Never).Min();
    }

    /// <summary>When a probe that was heard last at a moment is silent, given its bound: hearing starts afresh after an outage.</summary>
    public Moment DueAfter(Moment heardAt, TimeSpan bound)
    {
        var due = heardAt + bound;
        foreach (var (from, to) in spans)
        {
            if (from < due && to > heardAt)
            {
                due = to == Moment.Never ? Moment.Never : Moment.Later(due, to + bound);
            }
        }

        return due;
    }
}
