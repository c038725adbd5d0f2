using Chamber.Core.Alerts.Fold;
using Chamber.Core.Crops;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts.Conditions.WarmAndDark;

/// <summary>Hours that seedlings have been through in the warm and dark.</summary>
internal sealed record WarmAndDarkCarried(double Hours) : CarriedState;

/// <summary>Seedlings in the warm and dark on one location, batch by batch: hours of it since the first were up, wherever the batch
/// stood.</summary>
internal sealed class WarmAndDarkWatch(Condition condition, LocationState location)
    : BatchWatch<double, WarmAndDarkLimits>(condition, location, limits => new(limits))
{
    /// <summary>The rule: adds the hours of a line to those before; returns how bad it is by then, null for not at all.</summary>
    public static Severity? Step(ref double hours, BatchState batch, in SpotLeg leg, WarmAndDarkLimits limits)
    {
        if (!Concerns(batch) || leg.From.At < batch.FirstUpAt || leg.MeanCelsius < limits.WarmCelsius)
        {
            return null;
        }

        hours += leg.Hours;
        return hours < limits.HoursMin ? null : hours >= 3 * limits.HoursMin ? Severity.Urgent : Severity.Warning;
    }

    public override void Followed(BatchState batch, in SpotLeg leg)
    {
        if (Step(ref Of(batch), batch, leg, Limits) is { } severity)
        {
            Tell(batch, severity, leg);
        }
    }

    public override QuietBand QuietFor(BatchState batch) =>
        Concerns(batch) ? QuietBand.All with { High = Math.BitDecrement(Limits.WarmCelsius) } : QuietBand.All;

    public override CarriedState Carry(BatchState batch) => new WarmAndDarkCarried(Of(batch));

    public override void Resume(BatchState batch, CarriedState carried)
    {
        if (carried is WarmAndDarkCarried known)
        {
            Of(batch) = known.Hours;
        }
    }

    public override bool HoldsOn(BatchState batch) => batch.Terms.Light != LightLevel.Bright;

    private static bool Concerns(BatchState batch) =>
        batch.IsUp && batch.Terms.Light != LightLevel.Bright && batch.Method != SowingMethod.DampTowel;

    private void Tell(BatchState batch, Severity severity, in SpotLeg leg)
    {
        var alert = Find(batch.Subject) ?? Raise(batch.Subject, severity, batch.FirstUpAt!.Value, leg.To.At, batch.Name);
        Location.Book.Worsen(alert, severity);
        alert.LastAt = leg.To.At;
        alert[FigureName.Hours] = Of(batch);
        alert[FigureName.LatestCelsius] = leg.MeanCelsius;
        alert[FigureName.Up] = batch.Up;
    }
}
