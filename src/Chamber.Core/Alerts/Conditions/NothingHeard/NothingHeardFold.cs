using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.NothingHeard;

/// <summary>
/// Whether anything is heard at all in the home. It is about hearing, so it goes by the present and not by
/// the times of measurement, and is not folded again.
/// </summary>
internal sealed class NothingHeardFold(IReadOnlyList<Alert> reported)
{
    /// <summary>A silent probe is reported after this long, in which others may turn out to be silent with it.</summary>
    public static readonly Duration Grace = Duration.FromMinutes(5);

    /// <summary>Probes that were heard last within this of one another fell silent together.</summary>
    private static readonly Duration Together = Duration.FromMinutes(30);

    private readonly List<Alert> closed = [.. reported.Where(alert => !alert.IsOpen && alert.Kind == AlertKind.NothingHeard)];
    private Alert? open = reported.FirstOrDefault(alert => alert.IsOpen && alert.Kind == AlertKind.NothingHeard);
    private Instant heardUpTo;
    private TimeSpan longestGap;
    private Instant now;

    /// <summary>Whether a silence is still within its grace, so that what is said of it depends on the time.</summary>
    public bool IsDeciding { get; private set; }

    public IReadOnlyList<Alert> Alerts() => [.. closed, .. new[] { open }.OfType<Alert>()];

    /// <summary>Whether an alert is to be reported, and not covered by that of the home.</summary>
    /// <param name="alert">What the location says.</param>
    /// <param name="isReported">Whether it has been reported: then it stays so. Readings that all come late begin the silence again each
    /// time, which is no reason to take it back. Asked only where it matters, since it is a search.</param>
    public bool IsOwnCause(Alert alert, Predicate<Alert> isReported)
    {
        if (alert.Kind != AlertKind.SilentProbe || !alert.IsOpen)
        {
            return true;
        }

        return open is null && ((now >= alert.OpenedAt + Grace && now >= ExcusedUntil) || isReported(alert));
    }

    /// <summary>Looks at all probes; returns whether the home's own alert was opened or closed.</summary>
    public bool Update(IReadOnlyCollection<LocationFold> locations, HomeFacts facts, Instant at)
    {
        now = at;
        var (watched, silent) = LookAt(locations);
        IsDeciding = silent.Count > 0;
        var broker = facts.Outages.Where(outage => outage.Cause == OutageCause.Broker && outage.When.Contains(at))
            .Select(outage => (Instant?)outage.When.Start).FirstOrDefault();
        if (open is not null)
        {
            return broker is null && heardUpTo > open.Since && !IsQuiet(silent) && Close();
        }

        return (broker is { } lost && at >= lost + Grace && OpenSince(lost, lost + Grace, watched))
            || (IsQuiet(silent) && OpenSince(heardUpTo, at, silent.Count));
    }

    // Each minute, and more often than anything else: so it is one walk.
    private (int Watched, List<StationState> Silent) LookAt(IReadOnlyCollection<LocationFold> locations)
    {
        var (watched, silent, heard) = (0, new List<StationState>(), default(Moment?));
        longestGap = TimeSpan.Zero;
        foreach (var location in locations)
        {
            foreach (var station in location.Watch.Stations)
            {
                if (station is { IsHandRead: false, HasSpoken: true, HeardAt: { } at })
                {
                    watched++;
                    heard = Moment.Later(at, heard ?? at);
                    longestGap = station.MaxGap > longestGap ? station.MaxGap : longestGap;
                    silent.AddRange(station.IsSilent ? [station] : []);
                }
            }
        }

        heardUpTo = heard?.ToInstant() ?? Instant.MinValue;
        return (watched, silent);
    }

    // When all are heard again each may take its own bound to be so.
    private Instant ExcusedUntil => closed.Count == 0 ? Instant.MinValue
        : closed.Max(alert => alert.ClosedAt!.Value) + Duration.FromTimeSpan(longestGap);

    private bool IsQuiet(List<StationState> silent) =>
        silent.Count >= 2
        && heardUpTo <= silent.Min(station => station.HeardAt!.Value).ToInstant() + Together
        && now >= silent.Min(station => station.HeardAt!.Value + station.MaxGap).ToInstant() + Grace;

    private bool OpenSince(Instant since, Instant openedAt, int count)
    {
        var evidence = new AlertEvidence(null, since, openedAt, [new(FigureName.Count, count)]);
        open = new(AlertKind.NothingHeard, AlertSubject.Home, Severity.Warning, since, openedAt, null, null, evidence, []);
        return true;
    }

    private bool Close()
    {
        closed.Add(open! with { ClosedAt = Instant.Max(now, open.OpenedAt), CloseReason = CloseReason.Over });
        if (closed.Count > AlertBook.ClosedMax)
        {
            closed.RemoveAt(0);
        }

        open = null;
        return true;
    }
}
