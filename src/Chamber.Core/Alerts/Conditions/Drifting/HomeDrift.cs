using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.Drifting;

/// <summary>
/// Feeds the hours of all spots to the fold that finds drift, in order of time, and folds again from a day's checkpoint what came late or
/// was taken back. An hour waits for two more, in which slower probes may still end theirs.
/// </summary>
internal sealed class HomeDrift
{
    private static readonly TimeSpan Hour = TimeSpan.FromHours(1);
    private static readonly TimeSpan Lag = TimeSpan.FromHours(2);

    // They reach back for as long as hours are kept.
    private const int CheckpointMax = 7;

    private readonly List<DriftFold> checkpoints = [];
    private DriftFold fold = new();
    private (Moment At, IReadOnlyList<Alert> Open)? resumed;
    private bool isResumeKnown;
    private bool isBehind = true;

    /// <summary>Called when a log has changed.</summary>
    public void NoteChange() => isBehind = true;

    /// <summary>
    /// What was open before a restart is open, and nothing else: it was found on more hours than are folded again, so that these alone may
    /// say otherwise.
    /// </summary>
    /// <param name="open">The alerts of drift that were open.</param>
    /// <param name="watchedUpTo">Up to when the watch ran before.</param>
    public void Resume(IEnumerable<Alert> open, Instant watchedUpTo) =>
        resumed = (Moment.Of(watchedUpTo).HourStart - Lag, [.. open]);

    /// <summary>The alerts as they stand.</summary>
    public IEnumerable<Alert> Alerts() => fold.Alerts();

    /// <summary>An open alert.</summary>
    public OpenAlert? Find(AlertKind kind, AlertSubject subject) => fold.Book.Find(kind, subject);

    /// <summary>Whether an open alert of a spot is covered by that of the home.</summary>
    public bool IsOfTheHome(Alert alert) =>
        alert.IsOpen && alert.Kind == AlertKind.Drifting && alert.Subject != AlertSubject.Home
            && Find(AlertKind.Drifting, AlertSubject.Home) is { } home
        && Math.Sign(home[FigureName.ShiftKelvins] ?? 0) == Math.Sign(alert.Evidence.Find(FigureName.ShiftKelvins) ?? 0);

    /// <summary>The hours of an alert of a spot so far, beside what is usual at each.</summary>
    public IReadOnlyList<DriftedHour> HoursOf(LocationFold location, Alert alert, DateTimeZone zone)
    {
        var hours = new List<DriftedHour>();
        var first = Moment.Later(Moment.Of(alert.Since) + Hour, location.Hours.First);
        var last = Moment.Of(alert.Evidence.To);
        for (var end = first; end <= last; end += Hour)
        {
            foreach (var entry in location.Hours.Of(end))
            {
                if (entry.Kind == HourEntryKind.Mean && entry.Probe == alert.Evidence.Probe
                    && fold.UsualAt(location.Location.Spot!.Value, entry.Probe, HourOfDay(end, zone)) is { } usual)
                {
                    hours.Add(new(end, entry.Value, usual));
                }
            }
        }

        return hours;
    }

    /// <summary>Folds what there is; returns whether an alert was opened or closed.</summary>
    public bool Advance(IEnumerable<LocationFold> locations, DateTimeZone zone)
    {
        if (!isBehind)
        {
            return false;
        }

        isBehind = false;
        var spots = locations.Where(location => location.Location.Spot is not null)
            .OrderBy(location => location.Location.Spot!.Value.Text, StringComparer.Ordinal).ToList();
        var changed = spots.Select(location => location.Hours.TakeChange()).DefaultIfEmpty(Moment.Never).Min();
        var turned = changed <= fold.Folded;
        if (turned)
        {
            Restart(changed);
        }

        var upTo = spots.Select(location => location.Hours.Last).DefaultIfEmpty().Max() - Lag;
        ClampResume(upTo);
        var first = spots.Select(location => location.Hours.First).DefaultIfEmpty(Moment.Never).Min();
        for (var end = Moment.Later(fold.Folded + Hour, first); end <= upTo; end += Hour)
        {
            FoldHour(end, spots, zone);
        }

        turned |= fold.Book.Changed;
        fold.Book.Changed = false;
        return turned;
    }

    private static int HourOfDay(Moment end, DateTimeZone zone) => (end - Hour).HourOfDay(zone);

    private void FoldHour(Moment end, List<LocationFold> spots, DateTimeZone zone)
    {
        var entries = new List<(SpotId, HourEntry)>(spots.Count);
        foreach (var location in spots)
        {
            foreach (var entry in location.Hours.Of(end))
            {
                entries.Add((location.Location.Spot!.Value, entry));
            }
        }

        if (entries.Count > 0)
        {
            Keep(end);
            fold.Fold(end, HourOfDay(end, zone), entries);
        }

        if (resumed is { } before && before.At == end)
        {
            fold.Resume(before.Open, end);
        }
    }

    // The watch before had folded no more hours than there were.
    private void ClampResume(Moment upTo)
    {
        if (resumed is { } before && !isResumeKnown)
        {
            resumed = (Moment.Earlier(before.At, upTo), before.Open);
            isResumeKnown = true;
        }
    }

    /// <summary>Everything is folded again, since the zone or the locations are others.</summary>
    public void StartAfresh()
    {
        Restart(new(-1));
        isBehind = true;
    }

    private void Restart(Moment changed)
    {
        checkpoints.RemoveAll(checkpoint => checkpoint.Folded >= changed);
        fold = checkpoints.Count > 0 ? checkpoints[^1].Copy() : new();
    }

    private void Keep(Moment end)
    {
        if (fold.Folded > Moment.Beginning && end.Ticks / NodaConstants.TicksPerDay != fold.Folded.Ticks / NodaConstants.TicksPerDay)
        {
            checkpoints.Add(fold.Copy());
            CheckpointSpacing.Thin(checkpoints, one => one.Folded, CheckpointMax);
        }
    }
}
