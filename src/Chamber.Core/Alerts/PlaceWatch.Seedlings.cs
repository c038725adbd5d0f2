using Chamber.Core.Batches;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts;

/// <summary>What follows from looks and forecasts: cover shut, warm and dark, look now, stop waiting.</summary>
internal sealed partial class PlaceWatch
{
    // Air drier than this after emergence shows that the cover is off, though nobody said so.
    private const double UncoveredPercent = 80;

    private void Look(BatchState batch, double up, long at)
    {
        Book.Release(AlertKind.LookNow, AlertSubject.Of(batch.Id), batch.Name, at, CloseReason.Over, HarmOf);
        if (up > batch.Up)
        {
            batch.Up = (int)up;
            Book.Release(AlertKind.StopWaiting, AlertSubject.Of(batch.Id), batch.Name, at, CloseReason.Over, HarmOf);
        }

        if (up > 0 && batch.FirstUpAt is null)
        {
            batch.FirstUpAt = at;
            PlanDeadlines();
        }
    }

    private void Uncover(BatchState batch, long at)
    {
        batch.Uncover(at);
        Book.Release(AlertKind.CoverShut, AlertSubject.Of(batch.Id), batch.Name, at, CloseReason.Over, HarmOf);
        PlanDeadlines();
        if (batches.TrueForAll(other => !other.IsCovered))
        {
            foreach (var station in stations)
            {
                Restart(ref station.LidLeaks, AlertKind.DryingOut, at);
                station.LidTight = default;
            }
        }
    }

    private void AskToLook(BatchState batch, double chance, long at)
    {
        if (batch.FirstUpAt is null)
        {
            Book.Raise(AlertKind.LookNow, AlertSubject.Of(batch.Id), Severity.Note, at, at, batch.Name)[FigureName.Chance] = chance;
        }
    }

    private void StopWaiting(BatchState batch, BatchNote note, long at)
    {
        var alert = Book.Raise(AlertKind.StopWaiting, AlertSubject.Of(batch.Id), Severity.Note, at, at, batch.Name);
        alert[FigureName.Chance] = note.Value;
        alert[FigureName.Up] = batch.Up;
        alert.Why = note.Why;
    }

    private long CoverHold(BatchState batch) => batch.Method == SowingMethod.DampTowel ? limits.CoverHoldTowel : limits.CoverHoldMix;

    private void PlanDeadlines()
    {
        nextDue = long.MaxValue;
        foreach (var batch in batches)
        {
            if (batch is { FirstUpAt: { } up, IsCovered: true, CoverTold: < 2 })
            {
                nextDue = Math.Min(nextDue, up + CoverHold(batch) * (batch.CoverTold + 1));
            }
        }
    }

    private void MeetDeadlines(long upTo)
    {
        while (nextDue <= upTo)
        {
            var due = nextDue;
            Mark = Math.Max(Mark, due);
            foreach (var batch in batches.Where(batch => batch is { FirstUpAt: { } up, IsCovered: true, CoverTold: < 2 } && up + CoverHold(batch) * (batch.CoverTold + 1) <= due))
            {
                TellCover(batch, due);
            }

            PlanDeadlines();
        }
    }

    private void TellCover(BatchState batch, long due)
    {
        if (batch.Method != SowingMethod.DampTowel && stations.Exists(station => due - station.HumidityAt <= station.MaxGap && station.HumidityPercent < UncoveredPercent))
        {
            batch.Uncover(due);
            return;
        }

        batch.CoverTold++;
        var severity = batch.CoverTold > 1 ? Severity.Warning : Severity.Note;
        var alert = Book.Raise(AlertKind.CoverShut, AlertSubject.Of(batch.Id), severity, batch.FirstUpAt!.Value, due, batch.Name);
        alert.LastTicks = due;
        alert[FigureName.Up] = batch.Up;
        alert[FigureName.Hours] = (due - batch.FirstUpAt.Value) / (double)Hour;
    }

    private void CountWarmDark(BatchState batch, long from, long to, double meanCelsius)
    {
        if (batch.FirstUpAt is not { } up || from < up || batch.Terms.Light == LightLevel.Bright || batch.Method == SowingMethod.DampTowel
            || meanCelsius < limits.Limits.WarmDarkCelsius)
        {
            return;
        }

        batch.WarmDarkHours += (to - from) / (double)Hour;
        var wanted = limits.Limits.WarmDarkHours;
        if (batch.WarmDarkHours < wanted)
        {
            return;
        }

        var severity = batch.WarmDarkHours >= 3 * wanted ? Severity.Urgent : Severity.Warning;
        var about = AlertSubject.Of(batch.Id);
        var alert = Book.Find(AlertKind.WarmAndDark, about) ?? Book.Raise(AlertKind.WarmAndDark, about, severity, up, to, batch.Name);
        Book.Worsen(alert, severity);
        alert.LastTicks = to;
        alert[FigureName.Hours] = batch.WarmDarkHours;
        alert[FigureName.LatestCelsius] = meanCelsius;
        alert[FigureName.Up] = batch.Up;
    }
}
