namespace Chamber.Core.Alerts;

/// <summary>The times in which silence proves nothing.</summary>
internal sealed class OutageList(IEnumerable<Outage> outages)
{
    private readonly (long From, long To)[] spans =
    [
        .. outages.Select(outage => (
            outage.When.HasStart ? outage.When.Start.ToUnixTimeTicks() : 0,
            outage.When.HasEnd ? outage.When.End.ToUnixTimeTicks() : long.MaxValue)).Order(),
    ];

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
}
