using Chamber.Core.Batches;

namespace Chamber.Core.Diagnosis;

/// <summary>What to do about a cause: now, when waiting ends, and next time.</summary>
public static partial class DiagnosisWords
{
    private const string DigUp = "Dig one seed up: firm, give it a few days more; soft or hollow, sow again";

    /// <summary>What a cause is, in one sentence without numbers: for an alert that is over, and where only its name is known.</summary>
    public static string Why(CauseKind kind) => kind switch
    {
        CauseKind.AllUp => "All are up.",
        CauseKind.NotLooked => "Nobody has looked lately.",
        CauseKind.TooHot => "Its spot was too hot: in such heat much of sound seed does not come up.",
        CauseKind.Unsteady => "Its spot was too cold and too hot by turns.",
        CauseKind.Mould => "It went mouldy.",
        CauseKind.TooWet => "It was too wet.",
        CauseKind.DriedOut => "It dried out.",
        CauseKind.WrongLight => "It needs light to come up and had none.",
        CauseKind.NotChilled => "It wants a moist chill first and has not had it.",
        CauseKind.TooCold => "Its spot was too cold for too long.",
        CauseKind.WeakLot => "Its lot is old or weak: fewer than 60 in 100 were expected from the start.",
        CauseKind.NotMeasured => "For much of the time nothing was measured, so nobody can say why.",
        CauseKind.OldSeed => "Its seed is past its life.",
        CauseKind.UntestedLot => "Its spot was right, and its lot was never tested.",
        CauseKind.TreatedSeed => "Its seed is treated, which can hold it back.",
        CauseKind.SownWrong => "Spot and seed were right: sown too deep, perhaps, or a coat that wanted soaking or cold first.",
        CauseKind.LostAfter => "Plants were lost after they came up.",
        CauseKind.WarmAndDark => "It came up and was left warm and dark.",
        CauseKind.Late => "Warmth and lot were good enough: it is simply late.",
        CauseKind.NotYet => "Nothing is late.",
        CauseKind.WentWell => "As many are up as could be expected.",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such cause."),
    };

    /// <summary>What to do when waiting ends, by the name of the cause.</summary>
    public static string WhenDue(CauseKind kind) => kind switch
    {
        CauseKind.AllUp => "",
        CauseKind.NotLooked => "Look first, and record what is there, even if nothing is new.",
        CauseKind.TooHot => "Sow again on a spot nearer its ideal band.",
        CauseKind.Unsteady => "Sow again on a steadier spot, or in a closed box that evens it out.",
        CauseKind.Mould or CauseKind.TooWet => "Sow again in fresh mix or a fresh towel, no wetter than a wrung sponge.",
        CauseKind.DriedOut => "Sow again, covered, and look every day whether it is damp.",
        CauseKind.WrongLight => "Sow again on a bright spot: press the seed on and leave it uncovered.",
        CauseKind.NotChilled => "Put it in a refrigerator as it is, damp and closed, for its chill, then back into the warmth.",
        CauseKind.TooCold => "Dig one seed up: firm, move the rest to a warmer spot; soft, sow again there.",
        CauseKind.WeakLot or CauseKind.OldSeed =>
            "Sow again from a fresher lot or several times as thickly, and test the rest of this lot first.",
        CauseKind.UntestedLot => $"{DigUp} from another lot, and test twenty of this one on a towel.",
        CauseKind.WentWell => "Grow on what is up, and use the room of the rest for something else.",
        _ => $"{DigUp} or use its room for something else.",
    };

    /// <summary>What to do now; empty once a batch has ended.</summary>
    public static string Advice(Cause cause, BatchPhase phase)
    {
        ArgumentNullException.ThrowIfNull(cause);
        return phase switch
        {
            BatchPhase.Over => "",
            BatchPhase.Due when cause is AllUp => WhileWaiting(cause),
            BatchPhase.Due when cause is LostAfter or WarmAndDark => WhileWaiting(cause),
            BatchPhase.Due => $"Stop waiting. {WhenDue(cause.Kind)}",
            _ => WhileWaiting(cause),
        };
    }

    /// <summary>What to do differently next time; empty when nothing.</summary>
    public static string NextTime(Cause cause) => cause switch
    {
        TooHot => "Choose a cooler spot, or raise the box off the heat.",
        Unsteady => "Choose a steadier spot, or a closed box with a lid that evens it out.",
        TooCold => "Choose a warmer spot or give it a lid.",
        Mouldy or TooWet or DriedOut => "Wring towels until nothing drips; keep mix as damp as a wrung sponge.",
        WrongLight => "Press the seed on, leave it uncovered, and give it a bright spot.",
        NotChilled => "Chill the seed moist in a refrigerator before it comes into the warmth.",
        WeakLot => "Sow more of this lot, or buy fresh.",
        NotMeasured => "Keep a probe at the seed from sowing until it is up.",
        OldSeed or UntestedLot => "Test twenty of this lot on a towel before relying on it.",
        TreatedSeed => "Compare with untreated seed.",
        SownWrong => "Sow two to three times as deep as the seed is thick; see what the crop wants before sowing.",
        LostAfter lost => AfterUp(lost.To),
        WarmAndDark => "Into the light the day the first is up.",
        Late => "The next forecast for this crop learns from it.",
        _ => "",
    };

    private static string WhileWaiting(Cause cause) => cause switch
    {
        AllUp => "All are up: there is nothing left to wait for.",
        NotLooked => WhenDue(CauseKind.NotLooked),
        TooHot { Still: false } or Unsteady { Still: false } => "It is better off now: wait, and look once a day.",
        TooHot => "It is too hot there for this crop: raise it off the heat, or move it to a cooler spot today.",
        Unsteady => "Move it to a steadier spot, or even it out with a closed box or a lid.",
        Mouldy => "Open it, take out what is mouldy, outdoors if you can, and keep the rest less wet.",
        TooWet => "Pour off what stands and let it drain until it is as damp as a wrung sponge.",
        DriedOut => "Wet it now with water at room temperature, and cover it.",
        WrongLight => "Uncover the seed and move it to a bright spot.",
        NotChilled => WhenDue(CauseKind.NotChilled),
        TooCold { Never: true } => "Move it: at this temperature the seed will not come up at all.",
        TooCold { Still: false } => "It is warm enough now: wait, and look once a day.",
        TooCold => "The spot is cold for this crop: move the batch to a warmer one rather than wait.",
        WeakLot or OldSeed =>
            "The seed was doubtful from the start: wait until then, and sow a second batch from another lot if there is no time to lose.",
        NotMeasured => "Put a probe or a thermometer beside it: where nothing is measured, nobody can say when it will be up.",
        LostAfter => NextTime(cause),
        WarmAndDark { Still: false } => "It is in the light now: grow it on cooler.",
        WarmAndDark => "Move it to a bright place today, and grow it on cooler.",
        _ => "Wait until then. If nothing more is up, dig up one seed: firm, wait; soft, sow again.",
    };

    private static string AfterUp(LossCause to) => to switch
    {
        LossCause.DampingOff or LossCause.Mould => "Lid off the day it is up, water from below, let the top dry, move the air.",
        LossCause.DriedOut => "Look every day; a deeper box dries slower.",
        LossCause.Leggy => "Into the light the day the first is up.",
        LossCause.Cold or LossCause.Heat => "Grow on where it is mild and bright.",
        LossCause.Eaten => "Raise the boxes off the floor, and look under them in the evening.",
        LossCause.Handling => "Hold seedlings by a leaf, and lift them with their root ball.",
        _ => "Record what they were lost to.",
    };
}
