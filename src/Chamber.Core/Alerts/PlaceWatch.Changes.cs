using Chamber.Core.Batches;
using Chamber.Core.Climate;

namespace Chamber.Core.Alerts;

/// <summary>Facts that take effect.</summary>
internal sealed partial class PlaceWatch
{
    private void ApplyChanges(long upTo)
    {
        while (nextAt <= upTo)
        {
            var change = timeline[next];
            Mark = Math.Max(Mark, change.At);
            Apply(change);
            next++;
            nextAt = timeline.AtOf(next);
        }
    }

    private void Apply(PlaceChange change)
    {
        switch (change.What)
        {
            case ProbeTerms terms:
                stations.Add(new(terms) { HeardAt = change.At });
                break;
            case ProbeCalibration calibration:
                Calibrate(calibration);
                break;
            case ProbeId probe:
                RemoveProbe(probe, change.At);
                break;
            case BatchTerms terms:
                batches.Add(new(terms));
                break;
            case BatchId batch:
                RemoveBatch(batch, change.At);
                break;
            default:
                break;
        }
    }

    private void Calibrate(ProbeCalibration calibration) => StationOf(calibration.Probe)?.Calibrate(calibration);

    private void RemoveProbe(ProbeId probe, long at)
    {
        if (StationOf(probe) is not { } station)
        {
            return;
        }

        Book.Release(AlertKind.Hazard, subject, station.Name, at, CloseReason.Gone, HarmOf);
        Book.Release(AlertKind.SilentProbe, AlertSubject.Of(probe), station.Name, at, CloseReason.Gone, HarmOf);
        stations.Remove(station);
        lead = lead == station ? null : lead;
    }

    private void RemoveBatch(BatchId id, long at)
    {
        if (batches.Find(known => known.Id == id) is not { } batch)
        {
            return;
        }

        Book.Release(AlertKind.TooCold, subject, batch.Name, at, CloseReason.Gone, HarmOf);
        Book.Release(AlertKind.TooHot, subject, batch.Name, at, CloseReason.Gone, HarmOf);
        batches.Remove(batch);
    }
}
