using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>The times in which silence at a place proves nothing.</summary>
internal sealed class OutageList
{
    private readonly (long From, long To)[] spans;

    private OutageList(IEnumerable<Interval> spans) => this.spans = [.. spans.Select(when => (FromOf(when), ToOf(when))).Order()];

    /// <summary>Those of the whole home, and those in which somebody works on this place.</summary>
    public static OutageList Of(Place place, HomeFacts facts) => new(
        facts.Outages.Select(outage => outage.When)
            .Concat(facts.Maintenance.Where(work => work.Spot is null || work.Spot == place.Spot).Select(work => work.When)));

    /// <summary>The first instant from which the two say different things of when silence is excused, Unix ticks; far off when they never do.</summary>
    public static long FirstDifference(HomeFacts one, HomeFacts other)
    {
        var outages = new HashSet<Outage>(one.Outages);
        outages.SymmetricExceptWith(other.Outages);
        var works = new HashSet<Maintenance>(one.Maintenance);
        works.SymmetricExceptWith(other.Maintenance);
        return outages.Select(outage => outage.When).Concat(works.Select(work => work.When)).Select(FromOf).DefaultIfEmpty(long.MaxValue).Min();
    }

    /// <summary>When a probe that was heard last at an instant is silent, given its bound: hearing starts afresh after an outage.</summary>
    public long DueAfter(long heardAt, long bound)
    {
        var due = heardAt + bound;
        foreach (var (from, to) in spans)
        {
            if (from < due && to > heardAt)
            {
                due = to == long.MaxValue ? long.MaxValue : Math.Max(due, to + bound);
            }
        }

        return due;
    }

    private static long FromOf(Interval when) => when.HasStart ? when.Start.ToUnixTimeTicks() : 0;

    private static long ToOf(Interval when) => when.HasEnd ? when.End.ToUnixTimeTicks() : long.MaxValue;
}
