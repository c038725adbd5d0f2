using Chamber.Core.Climate;

namespace Chamber.Storage.Readings;

/// <summary>What one append has to know of a probe: its number, its newest reading, and the stretch behind that which changed.</summary>
internal sealed class ProbeTail(long key, ProbeId name, long newest, bool hasRolled)
{
    private long first = long.MaxValue;
    private long last = long.MinValue;

    public long Key { get; } = key;

    /// <summary>Its present name, whichever its readings came under.</summary>
    public ProbeId Name { get; } = name;

    public bool HasRolled { get; } = hasRolled;

    public bool IsLate => first <= last;

    public long First => first;

    public long Last => last;

    /// <summary>Takes in that a reading is new or fuller. One in order only moves the newest on.</summary>
    public void Change(long at)
    {
        if (at > newest)
        {
            newest = at;
            return;
        }

        first = Math.Min(first, at);
        last = Math.Max(last, at);
    }
}
