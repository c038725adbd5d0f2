using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;
using Chamber.Core.Cautions;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.FaultyProbe;

/// <summary>A probe says things that cannot be.</summary>
internal sealed class FaultyProbeCondition : Condition
{
    private static readonly Duration Span = Duration.FromHours(1);
    private static readonly Duration Clear = Duration.FromHours(6);

    public override AlertKind Kind => AlertKind.FaultyProbe;

    public override IReadOnlyList<Limit> Limits => [LoneValue.Size, FaultyProbeLimits.FlatLine, FaultyProbeLimits.Saturated];

    public override bool IsByFault => true;

    public override IReadOnlyList<RefusalRule> Refusals { get; } =
    [
        new(ProbeFault.Sentinel, [RefusalReason.Sentinel], Span, Clear, Severity.Warning),
        new(ProbeFault.OtherUnit, [RefusalReason.OtherUnit], Span, Clear, Severity.Warning),
        new(ProbeFault.Impossible, [RefusalReason.Impossible], Span, Clear, Severity.Warning),
    ];

    public override ConditionDocs Docs { get; } = new(
        "3 sentinels, values of the other unit or impossible ones within 1 h; 3 lone values (8 K off both neighbours) or 3 jumps of media "
            + "faster than 1 K/min within 24 h; the same value for 24 h over 48 readings; humidity at 99.5 % for 24 h in air that is "
            + "known to be open.",
        "6 h without a refusal, 24 h without a lone value or jump, or the next ordinary value.")
    {
        More = "The air is known to be open where the cover of a batch came off and none is covered, or where media stays 2 to 8.5 K "
            + "cooler than the air, which it does by evaporating and could not in saturated air. A worn sensor on an empty "
            + "shelf is not reported.",
    };

    public override ConditionWatch At(LocationState location) => new FaultyProbeWatch(this, location);

    public override HandCautions Cautions(Alert alert, Spot? spot) => HandCautions.OfSpot with { Beside = [CautionBook.Batteries] };

    public override AlertText Words(AlertTeller teller)
    {
        var (what, toDo) = teller.Alert.Evidence.Fault switch
        {
            ProbeFault.Sentinel =>
                ("It sends the code by which it says that it measured nothing.",
                "Check its wiring and battery; a probe that does so at power-on is read too early."),
            ProbeFault.Spike =>
                ("It says lone wild values between ordinary ones.", "Check plugs, leads and battery. Those values are kept and not used."),
            ProbeFault.FlatLine =>
                ("It has said the same to the last digit for far too long.",
                "Warm it in the hand: if it does not move, restart or replace it."),
            ProbeFault.ImpossibleRate =>
                ("It jumps faster than wet media can.",
                "See whether it slipped out of the media, or sits by a heater or its own electronics."),
            ProbeFault.OtherUnit =>
                ("Its values fit the other unit of temperature.", "Set its unit, °C or °F, in the configuration. It is never guessed."),
            ProbeFault.SaturatedHumidity =>
                ("Its humidity stays at the upper end in air that is known to be open: the sensor is wet or worn.",
                "Let it dry in warm, dry air for a day. Until then its humidity tells no more than that."),
            _ => ("It reports values that are impossible in a home.", "Check its unit and payload mapping; replace it if it goes on."),
        };
        return new($"{teller.Subject} is faulty", $"{what} First at {teller.Since()}.",
            "What it says wrongly is not used; what it measures meanwhile is not known.", toDo);
    }
}
