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
    private static readonly TimeSpan Hour = TimeSpan.FromHours(1);
    private static readonly TimeSpan Kept = TimeSpan.FromDays(60);

    private readonly Dictionary<Moment, List<HourEntry>> hours = [];
    private Moment changedFrom = Moment.Never;

    /// <summary>The end of the first hour; never while there is none.</summary>
    public Moment First { get; private set; } = Moment.Never;

    /// <summary>The end of the last hour; the beginning of time while there is none.</summary>
    public Moment Last { get; private set; }

    public void Write(in HourEntry entry)
    {
        var end = EndOf(entry.At);
        if (end < Last - Kept)
        {
            return;
        }

        if (!hours.TryGetValue(end, out var entries))
        {
            hours[end] = entries = new(1);
        }

        entries.Add(entry);
        First = Moment.Earlier(First, end);
        Last = Moment.Later(Last, end);
        changedFrom = Moment.Earlier(changedFrom, end);
        Forget();
        changed();
    }

    /// <summary>Begins with the hours before those that are folded: at a start, and when something of that time was put right.</summary>
    public void Begin(IReadOnlyList<HourEntry> earlier)
    {
        changedFrom = Moment.Earlier(changedFrom, First);
        hours.Clear();
        (First, Last) = (Moment.Never, Moment.Beginning);
        foreach (var entry in earlier)
        {
            Write(entry);
        }

        changed();
    }

    /// <summary>Takes back what was written beyond a mark: the location is folded again from there.</summary>
    public void TakeBack(Moment mark)
    {
        foreach (var (end, entries) in hours.ToList())
        {
            if (entries.RemoveAll(entry => entry.Mark > mark) == 0)
            {
                continue;
            }

            changedFrom = Moment.Earlier(changedFrom, end);
            if (entries.Count == 0)
            {
                hours.Remove(end);
            }
        }

        (First, Last) = hours.Count == 0 ? (Moment.Never, Moment.Beginning) : (hours.Keys.Min(), hours.Keys.Max());
        changed();
    }

    /// <summary>The entries of an hour by its end: changes of offset, then means, then who left; each in order of the probes'
    /// names.</summary>
    public IEnumerable<HourEntry> Of(Moment end) => hours.TryGetValue(end, out var entries)
        ? entries.Count == 1 ? entries : entries.OrderBy(entry => entry.Kind).ThenBy(entry => entry.Probe.Text, StringComparer.Ordinal)
        : [];

    /// <summary>The first hour that has changed since this was asked last; never when none has.</summary>
    public Moment TakeChange()
    {
        var from = changedFrom;
        changedFrom = Moment.Never;
        return from;
    }

    private void Forget()
    {
        for (; First < Last - Kept; First += Hour)
        {
            hours.Remove(First);
        }
    }

    private static Moment EndOf(Moment at) => at.HourStart == at ? at : at.NextHour;
}
