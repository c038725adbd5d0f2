using Chamber.Core.Alerts.Conditions.Drifting;
using Chamber.Core.Alerts.Conditions.NothingHeard;
using Chamber.Core.Alerts.Fold;
using NodaTime;

namespace Chamber.Core.Alerts.Watching;

/// <summary>
/// What there is to report: the difference between what was reported and what holds, with one alert a cause. Alerts of a spot are kept with
/// its location; those of probes and batches are those of no single location, since both move: a move neither ends such an alert nor dates
/// it again.
/// </summary>
internal sealed class HomeReport
{
    private readonly List<Alert> ofBatches;
    private readonly List<Alert> ofProbes;
    private readonly List<Alert> ofHome;
    private readonly List<Alert> gone = [];
    private readonly IReadOnlyList<Alert> stored;
    private readonly WatchedLocations locations;
    private readonly RefusalFold refused;
    private readonly HomeDrift drift;
    private readonly NothingHeardFold silence;
    private readonly Instant reportedUpTo;
    private bool hasChanged = true;

    /// <param name="stored">What was reported before a restart.</param>
    /// <param name="reportedUpTo">From where on that is whole.</param>
    /// <param name="locations">The locations.</param>
    /// <param name="drift">What has drifted.</param>
    /// <param name="refused">What shows in refusals.</param>
    public HomeReport(IReadOnlyList<Alert> stored, Instant reportedUpTo, WatchedLocations locations, HomeDrift drift, RefusalFold refused)
    {
        (this.stored, this.reportedUpTo, this.locations, this.drift, this.refused) = (stored, reportedUpTo, locations, drift, refused);
        refused.Resume(stored.Where(refused.IsOfRefusals));
        ofBatches = Of(SubjectKind.Batch);
        ofProbes = [.. Of(SubjectKind.Probe).Where(alert => !refused.IsOfRefusals(alert))];
        ofHome = Of(SubjectKind.Home);
        silence = new(ofHome);
    }

    /// <summary>What was refused counts when it arrives: what was reported of it before this was reported once and for all.</summary>
    public Instant RefusedUpTo { get; set; } = Instant.MinValue;

    /// <summary>All alerts as they stand.</summary>
    public IEnumerable<Alert> Alerts(HomeFacts facts) => locations.All
        .SelectMany(location => location.Reported.Where(alert => !alert.IsOpen)
            .Concat(Present(location, facts).Where(alert => alert.IsOpen)))
        .Concat(ofBatches).Concat(ofProbes).Concat(ofHome).Concat(refused.Reported);

    /// <summary>A location has come: what was reported of it is its own.</summary>
    public void Begin(LocationFold location) =>
        location.Reported.AddRange(
        stored.Where(alert => alert.Subject.Kind == SubjectKind.Spot && alert.Subject.Name == location.Location.Spot?.Text));

    /// <summary>A location is no more: what was open there has nothing left to be about.</summary>
    public void End(LocationFold location)
    {
        bool IsGone(Alert alert) => alert.IsOpen && location.Location.LoneProbe?.Text == alert.Subject.Name;
        gone.AddRange(location.Reported.Where(alert => alert.IsOpen).Concat(ofProbes.Where(IsGone)));
        ofProbes.RemoveAll(IsGone);
    }

    /// <summary>Reports what has changed.</summary>
    public List<WatchEvent> Write(HomeFacts facts, Instant now)
    {
        var events = new List<WatchEvent>();
        foreach (var alert in gone)
        {
            events.Add(new AlertClosed(alert with { ClosedAt = Instant.Max(now, alert.OpenedAt), CloseReason = CloseReason.Gone }));
        }

        gone.Clear();
        locations.CarryOver(facts);
        refused.Advance(now);
        AlertReport.Write(refused.Reported, PresentRefusals(), alert => IsHeld(refused.Alerts(), alert), RefusedUpTo, now, events);
        WriteLocations(facts, now, events);
        WriteProbes(now, events);
        WriteBatches(now, events);
        var ofTheHome = silence.Alerts().Concat(drift.Alerts().Where(alert => alert.Subject == AlertSubject.Home));
        AlertReport.Write(ofHome, [.. ofTheHome], _ => false, reportedUpTo, now, events);
        return events;
    }

    private static bool IsHeld(IEnumerable<Alert> alerts, Alert reported) => alerts.Any(alert => alert.IsOpen && alert.IsSameAs(reported));

    private List<Alert> Of(SubjectKind kind) => [.. stored.Where(alert => alert.Subject.Kind == kind)];

    private void WriteLocations(HomeFacts facts, Instant now, List<WatchEvent> events)
    {
        var ofAll = drift.Advance(locations.All, facts.Zone) | silence.Update(locations.All, facts, now) | silence.IsDeciding;
        hasChanged |= ofAll;
        foreach (var location in locations.All)
        {
            if (location.TakeLate() is { } late)
            {
                events.Add(late);
            }

            if (ofAll || location.Watch.Book.Changed || location.IsOld(now))
            {
                hasChanged = true;
                location.Watch.Book.Changed = false;
                location.LookedAt = now;
                AlertReport.Write(location.Reported, Present(location, facts), alert => IsHeld(OfSpot(location, facts), alert),
                    reportedUpTo, now, events);
            }
        }
    }

    private void WriteProbes(Instant now, List<WatchEvent> events)
    {
        if (hasChanged)
        {
            var all = OfLocations(SubjectKind.Probe).ToList();
            var present = all.Where(alert =>
                silence.IsOwnCause(alert, silent => ofProbes.Exists(reported => reported.IsOpen && reported.IsSameAs(silent))));

            // In turn, since one of an earlier location may have come to be known later.
            AlertReport.Write(ofProbes, [.. present.OrderBy(alert => alert.OpenedAt)], alert => IsHeld(all, alert), reportedUpTo, now,
                events);
        }
    }

    // A location that a batch has left holds the first half of an alert, closed there; the next one goes on with the same. One that is
    // about to be folded again does not know yet what a batch brings along.
    private void WriteBatches(Instant now, List<WatchEvent> events)
    {
        if (!hasChanged || locations.All.Any(location => location.AwaitsCarried))
        {
            return;
        }

        hasChanged = false;
        var present = OfLocations(SubjectKind.Batch).GroupBy(alert => (alert.Kind, alert.Subject, alert.OpenedAt))
            .Select(same => same.FirstOrDefault(alert => alert.IsOpen) ?? same.MaxBy(alert => alert.ClosedAt)!);
        AlertReport.Write(ofBatches, [.. present], _ => false, reportedUpTo, now, events);
    }

    private IEnumerable<Alert> OfLocations(SubjectKind kind) =>
        locations.All.SelectMany(location => location.Watch.Alerts()).Where(alert => alert.Subject.Kind == kind);

    // A probe has at most one open alert of a kind: what its location says of it comes first.
    private List<Alert> PresentRefusals()
    {
        if (refused.IsEmpty)
        {
            return [];
        }

        var byLocation = locations.All.SelectMany(location => location.Watch.Book.Open)
            .Select(alert => (alert.Kind, alert.Subject)).ToHashSet();
        return [.. refused.Alerts().Where(alert => !alert.IsOpen || !byLocation.Contains((alert.Kind, alert.Subject)))];
    }

    private IEnumerable<Alert> OfSpot(LocationFold location, HomeFacts facts) => location.Location.Spot is not { } spot
        ? []
        : location.Watch.Alerts().Where(alert => alert.Subject.Kind == SubjectKind.Spot)
            .Concat(drift.Alerts().Where(alert => alert.Subject == AlertSubject.Of(spot))
                .Select(alert => WithHarm(location, alert, facts)));

    /// <summary>What holds on a spot, without what another alert tells already.</summary>
    private List<Alert> Present(LocationFold location, HomeFacts facts) =>
        [.. SameAlerts.Merge(OfSpot(location, facts)).Where(alert => !drift.IsOfTheHome(alert) && !IsReportedByDrift(alert))];

    // What it has cost is reckoned while it is open; what was reported last stays when it is over.
    private Alert WithHarm(LocationFold location, Alert alert, HomeFacts facts) => alert.Kind != AlertKind.Drifting ? alert
        : alert with { Harm = alert.IsOpen ? location.Watch.HarmOfDrift(drift.HoursOf(location, alert, facts.Zone))
            : location.Reported.Find(alert.IsSameAs)?.Harm ?? [] };

    // A spot that has just moved away is reported as drifting; that its survey is stale follows from it, and is reported when the new level
    // has become the usual.
    private bool IsReportedByDrift(Alert alert) =>
        alert.IsOpen && alert.Kind == AlertKind.SurveyStale && drift.Find(AlertKind.Drifting, alert.Subject) is not null;
}
