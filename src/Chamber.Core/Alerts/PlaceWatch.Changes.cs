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
            // What falls due at the very instant of a change waits for it: whoever uncovers then is in time.
            if (nextDue < change.At)
            {
                MeetDeadlines(change.At);
            }

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
                Calibrate(calibration, change.At);
                break;
            case SurveyMean survey:
                surveyMean = survey.Mean.Celsius;
                var found = left.Held;
                Restart(ref found, AlertKind.SurveyStale, change.At);
                left = new(survey.Hours ?? [.. Enumerable.Repeat((double?)surveyMean, 24)]);
                break;
            case ProbeId probe:
                RemoveProbe(probe, change.At);
                break;
            case BatchTerms terms:
                batches.Add(new(terms, change.At));
                PlanDeadlines();
                break;
            case BatchDeparture carried:
                TakeOver(carried);
                break;
            case BatchId batch:
                RemoveBatch(batch, change.At);
                break;
            case BatchNote note when batches.Find(known => known.Id == note.Batch) is { } batch:
                ApplyNote(batch, note, change.At);
                break;
            default:
                break;
        }
    }

    private void ApplyNote(BatchState batch, BatchNote note, long at)
    {
        switch (note.Kind)
        {
            case ChangeKind.Wetted:
                RestartWetness(at);
                break;
            case ChangeKind.CoverOff:
                Uncover(batch, at);
                break;
            case ChangeKind.Looked:
                Look(batch, note.Value, at);
                break;
            case ChangeKind.LookDue:
                AskToLook(batch, note.Value, at);
                break;
            case ChangeKind.WaitingOver:
                StopWaiting(batch, note, at);
                break;
            default:
                break;
        }
    }

    private void Calibrate(ProbeCalibration calibration, long at)
    {
        if (StationOf(calibration.Probe) is { } station && station.Calibrate(calibration) is not 0 and var kelvins)
        {
            Write(new(at, Mark, station.Id, HourEntryKind.Offset, kelvins));
            foreach (var pair in pairs)
            {
                pair.Move(station.Name, kelvins);
            }
        }
    }

    private void Write(in HourEntry entry)
    {
        if (Place.Spot is not null)
        {
            hours.Write(entry);
        }
    }

    private void RemoveProbe(ProbeId probe, long at)
    {
        if (StationOf(probe) is not { } station)
        {
            return;
        }

        Book.ReleaseAll(holder => holder == station.Name || holder.StartsWith(station.Name + " ", StringComparison.Ordinal), at, HarmOf);
        pairs.RemoveAll(pair => pair.First == station.Name || pair.Second == station.Name);
        stations.Remove(station);
        Write(new(at, Mark, station.Id, HourEntryKind.Left, 0));
        lead = lead == station ? null : lead;
    }

    private void RemoveBatch(BatchId id, long at)
    {
        if (batches.Find(known => known.Id == id) is not { } batch)
        {
            return;
        }

        Depart(batch, at);
        Book.ReleaseAll(holder => holder == batch.Name, at, HarmOf);
        batches.Remove(batch);
        PlanDeadlines();
        if (batches.Count == 0)
        {
            ForgetWetness(at);
        }
    }
}
