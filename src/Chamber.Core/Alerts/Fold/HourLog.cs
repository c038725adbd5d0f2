using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>What the fold of a location has to say hour by hour.</summary>
internal enum HourEntryKind
{
    /// <summary>The offset of a probe has changed, by K.</summary>
    Offset,

    /// <summary>The mean of an hour, °C.</summary>
    Mean,

    /// <summary>The probe is there no more.</summary>
    Removed,
}

/// <summary>An entry of the log.</summary>
/// <param name="At">When it holds: the end of the hour, or the moment of the change.</param>
/// <param name="Mark">How far the location was folded when it was written, so that it can be taken back when the location is folded
/// again.</param>
/// <param name="Probe">Whose it is.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Value">See <paramref name="Kind"/>.</param>
internal readonly record struct HourEntry(Moment At, Moment Mark, ProbeId Probe, HourEntryKind Kind, double Value);

/// <summary>
/// The hours of one location, kept for the home: drift is what a spot does and the others do not, so that no location can tell it by
/// itself. Kept for as long as the usual is learnt from, which is longer than a payload's own time is believed.
/// </summary>
/// <param name="changed">Called when an entry was written or taken back.</param>
internal sealed class HourLog(Action changed)
{
    private static readonly TimeSpan Kept = TimeSpan.FromDays(60);

    // In order of their hours: a list of values, since a home has thousands of them and a club thousands of homes.
    private readonly List<HourEntry> entries = [];
    private Moment changedFrom = Moment.Never;

    /// <summary>The end of the first hour; never while there is none.</summary>
    public Moment First => entries.Count == 0 ? Moment.Never : EndOf(entries[0]);

    /// <summary>The end of the last hour; the beginning of time while there is none.</summary>
    public Moment Last => entries.Count == 0 ? Moment.Beginning : EndOf(entries[^1]);

    public void Write(in HourEntry entry)
    {
        var end = EndOf(entry);
        if (end < Last - Kept)
        {
            return;
        }

        entries.Insert(IndexAfter(end), entry);
        changedFrom = Moment.Earlier(changedFrom, end);
        Forget();
        changed();
    }

    /// <summary>Begins with the hours before those that are folded: at a start, and when something of that time was put right.</summary>
    public void Begin(IReadOnlyList<HourEntry> earlier)
    {
        changedFrom = Moment.Earlier(changedFrom, First);
        entries.Clear();
        entries.AddRange(earlier.OrderBy(EndOf));
        changedFrom = Moment.Earlier(changedFrom, First);
        Forget();
        changed();
    }

    /// <summary>Takes back what was written beyond a mark: the location is folded again from there.</summary>
    public void TakeBack(Moment mark)
    {
        if (entries.FindIndex(entry => entry.Mark > mark) is >= 0 and var first)
        {
            changedFrom = Moment.Earlier(changedFrom, EndOf(entries[first]));
            entries.RemoveAll(entry => entry.Mark > mark);
        }

        changed();
    }

    /// <summary>The entries of an hour by its end: changes of offset, then means, then who left; each in order of the probes'
    /// names.</summary>
    public IEnumerable<HourEntry> Of(Moment end)
    {
        var (first, after) = (IndexAfter(new(end.Ticks - 1)), IndexAfter(end));
        return after - first == 1 ? [entries[first]] : entries[first..after].OrderBy(entry => entry.Kind)
            .ThenBy(entry => entry.Probe.Text, StringComparer.Ordinal);
    }

    /// <summary>The first hour that has changed since this was asked last; never when none has.</summary>
    public Moment TakeChange()
    {
        var from = changedFrom;
        changedFrom = Moment.Never;
        return from;
    }

    private void Forget() => entries.RemoveRange(0, IndexAfter(new((Last - Kept).Ticks - 1)));

    // How many lie up to an hour.
    private int IndexAfter(Moment end)
    {
        var (low, high) = (0, entries.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) = EndOf(entries[middle]) <= end ? (middle + 1, high) : (low, middle);
        }

        return low;
    }

    private static Moment EndOf(HourEntry entry) => entry.At.HourStart == entry.At ? entry.At : entry.At.NextHour;
}
