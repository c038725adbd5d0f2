using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>What is said of probes, wherever they stand: a probe has been alone and on spots in turn, and an alert about it is that of no single place.</summary>
public sealed partial class HomeWatch
{
    private readonly List<Alert> probesTold = [];
    private bool probesTurned = true;

    private void TellProbes(Instant now, List<WatchEvent> events)
    {
        if (!probesTurned)
        {
            return;
        }

        probesTurned = false;
        var all = places.Values.SelectMany(place => place.Watch.Alerts()).Where(alert => alert.Subject.Kind == SubjectKind.Probe).ToList();
        ToldAlerts.Tell(probesTold, [.. all.Where(home.IsOwnCause)], alert => IsHeld(all, alert), toldUpTo, now, events);
    }

    /// <summary>A place that is no more: what was open there has nothing left to be about.</summary>
    private void Depart(PlaceFold place)
    {
        bool IsGone(Alert alert) => alert.IsOpen && place.Place.LoneProbe?.Text == alert.Subject.Name;
        departed.AddRange(place.Told.Where(alert => alert.IsOpen).Concat(probesTold.Where(IsGone)));
        probesTold.RemoveAll(IsGone);
    }
}
