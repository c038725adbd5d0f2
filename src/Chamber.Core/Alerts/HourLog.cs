using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>What the fold of a place has to say hour by hour.</summary>
internal enum HourEntryKind
{
    /// <summary>The offset of a probe has changed, by K.</summary>
    Offset,

    /// <summary>The mean of an hour, °C.</summary>
    Mean,

    /// <summary>The probe stands there no more.</summary>
    Left,
}

/// <summary>An entry of the log.</summary>
/// <param name="At">When it holds: the end of the hour, or the instant of the change, Unix ticks.</param>
/// <param name="Mark">How far the place was folded when it was written, so that it can be taken back when the place is folded again.</param>
/// <param name="Probe">Whose it is.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Value">See <paramref name="Kind"/>.</param>
internal readonly record struct HourEntry(long At, long Mark, ProbeId Probe, HourEntryKind Kind, double Value);

/// <summary>An hour of a drift.</summary>
/// <param name="End">Its end, Unix ticks.</param>
/// <param name="Celsius">Its mean.</param>
/// <param name="Usual">What is usual there at that hour of the day, °C.</param>
internal readonly record struct DriftedHour(long End, double Celsius, double Usual);

/// <summary>
/// The hours of one place, kept for the home: drift is what a spot does and the others do not, so that no place can tell it by itself.
/// Kept for as long as the usual is learnt from, which is longer than a payload's own time is believed.
/// </summary>
/// <param name="changed">Told when an entry was written or taken back.</param>
internal sealed class HourLog(Action changed)
{
    private const long Hour = NodaConstants.TicksPerHour;
    private const long Kept = 60 * NodaConstants.TicksPerDay;

    private readonly Dictionary<long, List<HourEntry>> hours = [];
    private long changedFrom = long.MaxValue;

    /// <summary>The end of the first hour; far off while there is none.</summary>
    public long First { get; private set; } = long.MaxValue;

    /// <summary>The end of the last hour; 0 while there is none.</summary>
    public long Last { get; private set; }

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
        First = Math.Min(First, end);
        Last = Math.Max(Last, end);
        changedFrom = Math.Min(changedFrom, end);
        Forget();
        changed();
    }

    /// <summary>Takes back what was written beyond a mark: the place is folded again from there.</summary>
    public void TakeBack(long mark)
    {
        foreach (var (end, entries) in hours.ToList())
        {
            if (entries.RemoveAll(entry => entry.Mark > mark) == 0)
            {
                continue;
            }

            changedFrom = Math.Min(changedFrom, end);
            if (entries.Count == 0)
            {
                hours.Remove(end);
            }
        }

        (First, Last) = hours.Count == 0 ? (long.MaxValue, 0) : (hours.Keys.Min(), hours.Keys.Max());
        changed();
    }

    /// <summary>The entries of an hour by its end: changes of offset, then means, then what left; each in order of the probes' names.</summary>
    public IEnumerable<HourEntry> Of(long end) => hours.TryGetValue(end, out var entries)
        ? entries.Count == 1 ? entries : entries.OrderBy(entry => entry.Kind).ThenBy(entry => entry.Probe.Text, StringComparer.Ordinal)
        : [];

    /// <summary>The first hour that has changed since this was asked last; far off when none has.</summary>
    public long TakeChange()
    {
        var from = changedFrom;
        changedFrom = long.MaxValue;
        return from;
    }

    private void Forget()
    {
        for (; First < Last - Kept; First += Hour)
        {
            hours.Remove(First);
        }
    }

    private static long EndOf(long at) => (at + Hour - 1) / Hour * Hour;
}
