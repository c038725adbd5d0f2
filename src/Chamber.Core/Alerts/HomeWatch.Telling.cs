using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>What there is to say: the difference between what was said and what holds, with one alert a cause.</summary>
public sealed partial class HomeWatch
{
    private readonly HomeFold home;
    private readonly List<Alert> departed = [];

    private List<WatchEvent> Tell(Instant now)
    {
        var events = new List<WatchEvent>();
        foreach (var gone in departed)
        {
            events.Add(new AlertClosed(gone with { ClosedAt = Instant.Max(now, gone.OpenedAt), CloseReason = CloseReason.Gone }));
        }

        departed.Clear();
        CarryOver();
        refused.Advance(now);
        ToldAlerts.Tell(refused.Told, PresentRefusals(), alert => IsHeld(refused.Alerts(), alert), refusedUpTo, now, events);
        var homeTurned = drift.Advance(places.Values, facts.Zone) | home.Update(places.Values, facts, now);
        foreach (var place in places.Values)
        {
            if (place.TakeLate() is { } late)
            {
                events.Add(late);
            }

            if (place.Watch.Book.Changed || homeTurned || home.IsDeciding || place.IsOld(now))
            {
                batchesTurned = probesTurned = true;
                place.Watch.Book.Changed = false;
                place.LookedAt = now;
                ToldAlerts.Tell(place.Told, Present(place), alert => IsHeld(place.Watch.Alerts().Concat(DriftOf(place)), alert), toldUpTo, now, events);
            }
        }

        TellProbes(now, events);
        TellBatches(now, events);
        ToldAlerts.Tell(home.Told, [.. home.Alerts(), .. drift.Alerts().Where(alert => alert.Subject == AlertSubject.Home)], _ => false, toldUpTo, now, events);
        return events;
    }

    /// <summary>What holds at a place, without what another alert tells already.</summary>
    private List<Alert> Present(PlaceFold place) =>
    [
        .. SameAlerts.Merge(place.Watch.Alerts().Where(alert => alert.Subject.Kind == SubjectKind.Spot).Concat(DriftOf(place)))
            .Where(alert => !drift.IsCommon(alert) && !IsToldByDrift(alert)),
    ];

    private IEnumerable<Alert> DriftOf(PlaceFold place) => place.Place.Spot is { } spot
        ? drift.Alerts().Where(alert => alert.Subject == AlertSubject.Of(spot)).Select(alert => WithHarm(place, alert))
        : [];

    // What it has cost is reckoned while it is open; what was told last stays when it is over.
    private Alert WithHarm(PlaceFold place, Alert alert) => alert.Kind != AlertKind.Drifting ? alert
        : alert with { Harm = alert.IsOpen ? place.Watch.HarmOfDrift(drift.HoursOf(place, alert, facts.Zone)) : place.Told.Find(alert.IsSameAs)?.Harm ?? [] };

    // A spot that has just moved away is told as drifting; that its survey is stale follows from it, and is told when the new level has become the usual.
    private bool IsToldByDrift(Alert alert) =>
        alert is { Kind: AlertKind.SurveyStale, IsOpen: true } && drift.Find(AlertKind.Drifting, alert.Subject) is not null;

    private static bool IsHeld(IEnumerable<Alert> alerts, Alert told) => alerts.Any(alert => alert.IsOpen && alert.IsSameAs(told));

    private static bool IsOfRefusals(Alert alert) => alert.Kind == AlertKind.ClockWrong
        || (alert.Kind == AlertKind.FaultyProbe && alert.Evidence.Fault is ProbeFault.Sentinel or ProbeFault.OtherUnit or ProbeFault.Impossible);

    private static bool IsAbout(Alert alert, PlaceFold place) => alert.Subject.Kind == SubjectKind.Spot && place.Place.Spot?.Text == alert.Subject.Name;
}
