using Chamber.Core.Climate;

namespace Chamber.Core.Alerts;

/// <summary>Too cold, too hot, hazard.</summary>
internal sealed partial class PlaceWatch
{
    private void FoldBatches(StationState station, long at, double celsius, bool connected)
    {
        for (var i = 0; i < batches.Count; i++)
        {
            var batch = batches[i];
            var hold = HotHold(station);
            if (connected)
            {
                Turned(batch, station, batch.AdvanceCold(at, limits), batch.AdvanceHot(at, hold, limits), celsius, at);
                batch.Pass(station.LastAt, station.LastCelsius, at, celsius);
                CountWarmDark(batch, station.LastAt, at, (station.LastCelsius + celsius) / 2);
            }
            else if (lead is { HasLast: true })
            {
                var known = Math.Min(at, KnownUntil(lead));
                Turned(batch, lead, batch.AdvanceCold(known, limits), batch.AdvanceHot(known, HotHold(lead), limits), lead.LastCelsius, lead.LastAt);
                batch.Lose();
            }

            Turned(batch, station, batch.JudgeCold(at, celsius, limits), batch.JudgeHot(at, celsius, hold, limits), celsius, at);
            if (batch.IsTooCold || batch.IsTooHot)
            {
                NoteWarmth(batch, at, celsius);
            }
        }
    }

    private void AdvanceBatches(StationState station, long to)
    {
        foreach (var batch in batches)
        {
            Turned(batch, station, batch.AdvanceCold(to, limits), batch.AdvanceHot(to, HotHold(station), limits), station.LastCelsius, station.LastAt);
        }
    }

    private long HotHold(StationState station) => station.Measurand == Measurand.Air ? limits.HotHoldAir : limits.HotHold;

    private void Turned(BatchState batch, StationState station, Turn cold, Turn hot, double celsius, long readAt)
    {
        if (cold != Turn.None)
        {
            ColdTurned(batch, station, cold, celsius, readAt);
        }

        if (hot != Turn.None)
        {
            HotTurned(batch, station, hot, celsius, readAt);
        }
    }

    private void ColdTurned(BatchState batch, StationState station, Turn turn, double celsius, long readAt)
    {
        Mark = Math.Max(Mark, batch.ColdTurnedAt);
        if (turn == Turn.Closed)
        {
            Book.Release(AlertKind.TooCold, subject, batch.Name, batch.ColdTurnedAt, CloseReason.Over, HarmOf);
            batch.ForgetCold();
            return;
        }

        var alert = Book.Raise(AlertKind.TooCold, subject, Severity.Warning, batch.ColdSince, batch.ColdTurnedAt, batch.Name);
        Describe(alert, station, celsius, Highest(alert, batch.CoolLimit), readAt);
        alert[FigureName.HoursLost] = batch.HoursLostAt(batch.ColdTurnedAt);
        if (station.Measurand == Measurand.Media && stations.Find(other => other.Measurand == Measurand.Air && other.IsFreshAt(batch.ColdTurnedAt)) is { } air
            && EvaporativeCooling.Explains(air.LastCelsius, celsius))
        {
            alert[FigureName.AirCelsius] = air.LastCelsius;
        }
    }

    private void HotTurned(BatchState batch, StationState station, Turn turn, double celsius, long readAt)
    {
        Mark = Math.Max(Mark, batch.HotTurnedAt);
        if (turn == Turn.Closed)
        {
            Book.Release(AlertKind.TooHot, subject, batch.Name, batch.HotTurnedAt, CloseReason.Over, HarmOf);
            batch.ForgetHeat();
            return;
        }

        var alert = Book.Raise(AlertKind.TooHot, subject, Severity.Warning, batch.HotSince, batch.HotTurnedAt, batch.Name);
        Describe(alert, station, celsius, Lowest(alert, batch.HotLimit(limits.Limits)), readAt);
    }

    private static double Highest(OpenAlert alert, double limit) =>
        double.IsNaN(alert[FigureName.LimitCelsius]) ? limit : Math.Max(limit, alert[FigureName.LimitCelsius]);

    private static double Lowest(OpenAlert alert, double limit) =>
        double.IsNaN(alert[FigureName.LimitCelsius]) ? limit : Math.Min(limit, alert[FigureName.LimitCelsius]);

    private static void Describe(OpenAlert alert, StationState station, double celsius, double limit, long readAt)
    {
        alert.Probe ??= station.Id;

        // What is told is the last reading, not the moment at which it had held for long enough.
        alert.LastTicks = readAt;
        alert[FigureName.LimitCelsius] = limit;
        alert[FigureName.LatestCelsius] = celsius;
        if (double.IsNaN(alert[FigureName.WorstCelsius]))
        {
            alert[FigureName.WorstCelsius] = celsius;
        }
    }

    private void NoteWarmth(BatchState batch, long at, double celsius)
    {
        if (batch.IsTooCold && Book.Find(AlertKind.TooCold, subject) is { } cold)
        {
            cold[FigureName.HoursLost] = batch.HoursLostAt(at);
            Note(cold, at, celsius, Math.Min(cold[FigureName.WorstCelsius], celsius));
        }

        if (batch.IsTooHot && Book.Find(AlertKind.TooHot, subject) is { } hot)
        {
            hot[FigureName.LimitCelsius] = batches.Where(other => other.IsTooHot).Min(other => other.HotLimit(limits.Limits));
            Note(hot, at, celsius, Math.Max(hot[FigureName.WorstCelsius], celsius));
        }
    }

    private static void Note(OpenAlert alert, long at, double celsius, double worst)
    {
        alert.LastTicks = at;
        alert[FigureName.LatestCelsius] = celsius;
        alert[FigureName.WorstCelsius] = worst;
    }

    private void JudgeHazard(StationState station, long at, double celsius)
    {
        var limit = HazardLimit(station);
        if (celsius <= limit && !station.Hazard.IsOpen)
        {
            return;
        }

        AdvanceHazard(station, station.HasLast ? Math.Min(at, KnownUntil(station)) : at);
        var turn = station.Hazard.Judge(at, celsius > limit, celsius <= limit - limits.Limits.HazardMargin, 0, limits.HazardClear);
        HazardTurned(station, turn, celsius, limit, at);
        if (station.Hazard.IsOpen && Book.Find(AlertKind.Hazard, subject) is { } alert)
        {
            Note(alert, at, celsius, Math.Max(alert[FigureName.WorstCelsius], celsius));
            if (celsius > limits.Limits.DangerCelsius)
            {
                alert[FigureName.LimitCelsius] = limits.Limits.DangerCelsius;
                Book.Worsen(alert, Severity.Danger);
            }
        }
    }

    private void AdvanceHazard(StationState station, long to)
    {
        if (station.Hazard.IsOpen)
        {
            HazardTurned(station, station.Hazard.Advance(to, 0, limits.HazardClear), station.LastCelsius, HazardLimit(station), station.LastAt);
        }
    }

    private void HazardTurned(StationState station, Turn turn, double celsius, double limit, long readAt)
    {
        var at = station.Hazard.TurnedAt;
        if (turn == Turn.Closed)
        {
            Mark = Math.Max(Mark, at);
            Book.Release(AlertKind.Hazard, subject, station.Name, at, CloseReason.Over, HarmOf);
        }
        else if (turn == Turn.Opened)
        {
            var severity = celsius > limits.Limits.DangerCelsius ? Severity.Danger : Severity.Urgent;
            Describe(Book.Raise(AlertKind.Hazard, subject, severity, at, at, station.Name), station, celsius, limit, readAt);
        }
    }

    // The outside of a bag or a box is as hot as what is in it only when something stands there.
    private double HazardLimit(StationState station) =>
        station.Measurand == Measurand.Media || (station.Measurand == Measurand.OutsideSurface && batches.Count > 0)
            ? limits.Limits.HarmCelsius
            : limits.Limits.DangerCelsius;
}
