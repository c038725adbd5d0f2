using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.DryingOut;

/// <summary>Drying out by one probe: by its moisture, or by the air under a cover.</summary>
internal struct DryingOutState
{
    /// <summary>The media is too dry.</summary>
    public HeldCondition Dry;

    /// <summary>The air was saturated for so long that a cover is shut; ends only with the cover.</summary>
    public HeldCondition LidTight;

    /// <summary>The air under a shut cover has dried.</summary>
    public HeldCondition LidLeaks;
}

/// <summary>Media that is too dry for long enough, or air under a cover that leaks.</summary>
internal static class DryingOutRule
{
    private static readonly TimeSpan Never = TimeSpan.MaxValue;

    public static Transition Step(ref DryingOutState state, in MoistureInput input, DryingOutLimits limits)
    {
        var dry = limits.DryPercent(input.IsTowel);
        return state.Dry.Judge(input.At, input.Percent < dry, input.Percent > dry + limits.Moisture.MarginPercent, limits.Moisture.DryHold,
            TimeSpan.Zero);
    }

    /// <summary>Takes humidity under a cover; returns whether the cover was known to be shut before, so that it may be judged.</summary>
    public static bool StepLid(ref DryingOutState state, in HumidityInput input, DryingOutLimits limits)
    {
        if (state.LidTight.IsAtRest && input.Percent <= limits.LidTightPercent)
        {
            return false;
        }

        var wasTight = state.LidTight.IsOpen;
        state.LidTight.PassTo(input.Known, input.IsGap, limits.LidTightHold, Never);
        state.LidTight.Judge(input.At, input.Percent > limits.LidTightPercent, false, limits.LidTightHold, Never);
        return wasTight;
    }

    public static Transition StepLeak(ref DryingOutState state, in HumidityInput input, DryingOutLimits limits) => state.LidLeaks.Judge(
        input.At, input.Percent < limits.LidDryPercent, input.Percent > limits.LidDryPercent + limits.Moisture.MarginPercent,
            limits.LidDryHold, limits.Moisture.DryHold);
}
