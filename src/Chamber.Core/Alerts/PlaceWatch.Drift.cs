using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>What shows in hourly means: swing, a stale survey, probes that disagree. Drift is told by the home, to which the hours are written down.</summary>
internal sealed partial class PlaceWatch
{
    private const long Hour = NodaConstants.TicksPerHour;

    private void PassHours(StationState station, long at, double celsius)
    {
        if (!station.HasLast || at - station.LastAt > station.MaxGap)
        {
            station.Hours.Begin(at);
            return;
        }

        var from = station.LastAt;
        var fromCelsius = station.LastCelsius;
        while (at >= station.Hours.End)
        {
            var end = station.Hours.End;
            var endCelsius = fromCelsius + (celsius - fromCelsius) * ((end - from) / (double)(at - from));
            station.Hours.Add(from, fromCelsius, end, endCelsius);
            if (station.Hours.Mean is { } mean)
            {
                EndHour(station, end, mean);
            }

            station.Hours.Begin(end);
            (from, fromCelsius) = (end, endCelsius);
            if (from == at)
            {
                return;
            }
        }

        station.Hours.Add(from, fromCelsius, at, celsius);
    }

    private void EndHour(StationState station, long end, double mean)
    {
        if (Place.Spot is null)
        {
            return;
        }

        var ofDay = Instant.FromUnixTimeTicks(end - Hour).InZone(limits.Zone).Hour;
        station.HourEnd = end;
        station.HourMean = mean;
        station.LastDay.Add(ofDay, mean);
        station.Off.Add(station.Usual.At(ofDay) is { } usual ? mean - usual : 0);
        station.Usual.Learn(ofDay, mean, follow: true);
        hours.Write(new(end, Mark, station.Id, HourEntryKind.Mean, mean));
        JudgePairs(station, end);
        if (lead is null || station == lead)
        {
            JudgeStale(station, end);
            JudgeSwings(station, end);
        }
    }

    private void JudgePairs(StationState station, long end)
    {
        foreach (var other in stations)
        {
            if (other != station && other.HourEnd == end && other.Measurand == station.Measurand)
            {
                var ordered = string.CompareOrdinal(other.Name, station.Name) < 0 ? (other, station) : (station, other);
                JudgePair(ordered.Item1, ordered.Item2, end);
            }
        }
    }

    private void JudgePair(StationState first, StationState second, long end)
    {
        var pair = pairs.Find(known => known.First == first.Name && known.Second == second.Name);
        if (pair is null)
        {
            pairs.Add(pair = new(first.Name, second.Name));
        }

        if (end - pair.LastHour > 2 * Hour)
        {
            pair.Apart.Lose();
        }

        pair.LastHour = end;
        pair.Add(first.HourMean - second.HourMean);
        if (!pair.IsMature)
        {
            return;
        }

        var limit = limits.Limits.DisagreeKelvins;
        var apart = Math.Abs(pair.Change);
        var turn = pair.Apart.Judge(end, apart > limit, apart < limit / 2, limits.DisagreeHold, limits.DisagreeHold);
        if (turn == Turn.Closed)
        {
            Book.Release(AlertKind.ProbesDisagree, subject, pair.Holder, pair.Apart.TurnedAt, CloseReason.Over, HarmOf);
        }
        else if (turn == Turn.Opened)
        {
            var moved = Math.Abs(first.Off.Mean(6)) >= Math.Abs(second.Off.Mean(6)) ? first : second;
            var alert = Book.Raise(AlertKind.ProbesDisagree, subject, Severity.Warning, pair.Apart.Since, pair.Apart.TurnedAt, pair.Holder);
            alert.Probe ??= moved.Id;
            alert[FigureName.ShiftKelvins] = pair.Change;
        }
    }

    private void JudgeStale(StationState station, long end)
    {
        if (surveyMean is not { } surveyed || !station.LastDay.IsFull || left.Off(station.LastDay) is not { } shift)
        {
            return;
        }

        var turn = left.Judge(end, shift, limits.Limits.StaleKelvins, limits.StaleHold);
        Turned(turn, left.Held, AlertKind.SurveyStale, subject, station.Name, Severity.Note);
        if (Book.Find(AlertKind.SurveyStale, subject) is { } alert)
        {
            alert.Probe ??= station.Id;
            alert.LastTicks = end;
            alert[FigureName.LatestCelsius] = station.LastDay.Mean;
            alert[FigureName.UsualCelsius] = surveyed;
            alert[FigureName.ShiftKelvins] = shift;
        }
    }

    private void JudgeSwings(StationState station, long end)
    {
        foreach (var batch in batches)
        {
            var turn = batch.JudgeSwing(end, limits.Limits);
            if (turn == Turn.Closed)
            {
                Book.Release(AlertKind.Swinging, subject, batch.Name, end, CloseReason.Over, HarmOf);
            }
            else if (turn == Turn.Opened)
            {
                var alert = Book.Raise(AlertKind.Swinging, subject, Severity.Note, Math.Max(0, end - 24 * Hour), end, batch.Name);
                alert.Probe ??= station.Id;
                alert[FigureName.LowestCelsius] = station.LastDay.Lowest;
                alert[FigureName.WorstCelsius] = station.LastDay.Highest;
                alert[FigureName.LimitCelsius] = batch.HotLimit(limits.Limits);
            }
        }
    }

    /// <summary>Opens or closes an alert that a held condition stands for.</summary>
    private OpenAlert? Turned(Turn turn, in HeldCondition held, AlertKind kind, AlertSubject about, string holder, Severity severity)
    {
        if (turn == Turn.None)
        {
            return null;
        }

        Mark = Math.Max(Mark, held.TurnedAt);
        if (turn == Turn.Opened)
        {
            return Book.Raise(kind, about, severity, held.Since, held.TurnedAt, holder);
        }

        Book.Release(kind, about, holder, held.TurnedAt, CloseReason.Over, HarmOf);
        return null;
    }

    /// <summary>What a condition of the spot was about has been done anew.</summary>
    private void Restart(ref HeldCondition held, AlertKind kind, long at)
    {
        if (held.IsOpen && Book.Find(kind, subject) is { } alert)
        {
            foreach (var holder in alert.Holders.ToList())
            {
                Book.Release(kind, subject, holder, at, CloseReason.Over, HarmOf);
            }
        }

        held = default;
    }
}
