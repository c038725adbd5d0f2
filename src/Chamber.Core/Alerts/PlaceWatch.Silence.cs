using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>Silent probes.</summary>
internal sealed partial class PlaceWatch
{
    private void Hear(StationState station, long at)
    {
        AdvanceSilence(station, at);
        if (station.IsSilent)
        {
            station.IsSilent = false;
            Book.Release(AlertKind.SilentProbe, AlertSubject.Of(station.Id), station.Name, at, CloseReason.Over, HarmOf);
        }

        ForgetFaults(station, at);
        station.HeardAt = at;
        station.HasSpoken = true;
    }

    private void AdvanceSilence(StationState station, long to)
    {
        if (station.IsSilent || station.HandRead || station.HeardAt == 0 || to - station.HeardAt <= station.MaxGap)
        {
            return;
        }

        var due = outages.DueAfter(station.HeardAt, station.MaxGap);
        if (to <= due)
        {
            return;
        }

        station.IsSilent = true;
        // A reading at the very instant still comes in time.
        Mark = Math.Max(Mark, due + 1);
        var alert = Book.Raise(AlertKind.SilentProbe, AlertSubject.Of(station.Id), Severity.Warning, station.HeardAt, due, station.Name);
        alert.Probe = station.Id;
        alert[FigureName.Hours] = station.MaxGap / (double)NodaConstants.TicksPerHour;
        if (station.HasLast)
        {
            alert[FigureName.LatestCelsius] = station.LastCelsius;
        }
    }
}
