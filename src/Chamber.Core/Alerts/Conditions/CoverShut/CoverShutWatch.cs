using Chamber.Core.Alerts.Fold;
using Chamber.Core.Crops;
using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.CoverShut;

/// <summary>How often the shut cover of a batch was reported: 1 as a note, 2 as a warning.</summary>
internal sealed record CoverShutCarried(int Times) : CarriedState;

/// <summary>Covers on one location that are still shut, batch by batch. Nothing but time brings it about.</summary>
internal sealed class CoverShutWatch(Condition condition, LocationState location)
    : BatchWatch<int, CoverShutLimits>(condition, location, limits => new(limits))
{
    /// <summary>Air drier than this after emergence shows that the cover is off, though nobody said so (common practice, no
    /// source).</summary>
    private const double OpenAirPercent = 80;

    private const int TimesMax = 2;

    public override Moment Due
    {
        get
        {
            var due = Moment.Never;
            foreach (var batch in Location.Batches)
            {
                due = Moment.Earlier(due, DueOf(batch, Of(batch), Limits));
            }

            return due;
        }
    }

    /// <summary>The rule: when the cover of a batch is to be reported next; never when it need not be.</summary>
    public static Moment DueOf(BatchState batch, int timesReported, CoverShutLimits limits) =>
        batch is { FirstUpAt: { } up, IsCovered: true } && timesReported < TimesMax
            ? up + limits.HoldOf(IsTowel(batch)) * (timesReported + 1) : Moment.Never;

    public override void MeetDue(Moment due)
    {
        foreach (var batch in Location.Batches)
        {
            if (DueOf(batch, Of(batch), Limits) <= due)
            {
                Tell(batch, due);
            }
        }
    }

    public override void Uncovered(BatchState batch, Moment at) => Release(batch.Subject, batch.Name, at);

    public override CarriedState Carry(BatchState batch) => new CoverShutCarried(Of(batch));

    public override void Resume(BatchState batch, CarriedState carried)
    {
        if (carried is CoverShutCarried known)
        {
            Of(batch) = known.Times;
        }
    }

    public override bool HoldsOn(BatchState batch) => batch.IsCovered;

    private static bool IsTowel(BatchState batch) => batch.Method == SowingMethod.DampTowel;

    private void Tell(BatchState batch, Moment due)
    {
        if (!IsTowel(batch) && Location.Stations.Any(
            station => station.HumidityAt is { } at && due - at <= station.MaxGap && station.HumidityPercent < OpenAirPercent))
        {
            batch.Uncover(due);
            return;
        }

        var times = ++Of(batch);
        var up = batch.FirstUpAt!.Value;
        var alert = Raise(batch.Subject, times > 1 ? Severity.Warning : Severity.Note, up, due, batch.Name);
        alert.LastAt = due;
        alert[FigureName.Up] = batch.Up;
        alert[FigureName.Hours] = (due - up).Ticks / (double)NodaConstants.TicksPerHour;
    }
}
