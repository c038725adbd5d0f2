using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.FaultyProbe;

/// <summary>
/// A humidity sensor that stays at its upper end. Under a cover air is saturated whether the media is damp or swimming: there it proves a
/// shut cover and no fault. A lid that nobody has recorded is a lid all the same, so that it must be known that the air is open.
/// </summary>
internal static class SaturatedHumidity
{
    /// <summary>Takes humidity. Let time pass up to it first.</summary>
    public static Transition Step(ref HeldCondition state, in HumidityInput input, bool isOpenAir, TimeSpan hold)
    {
        var isSaturated = input.Raw >= HumidityScale.End;
        return state.Judge(input.At, isSaturated && isOpenAir, !isSaturated || input.IsCovered, hold, TimeSpan.Zero);
    }

    /// <summary>Whether the reading concerns the rule at all; if not, what was pending is dropped.</summary>
    public static bool Concerns(ref HeldCondition state, in HumidityInput input)
    {
        if (input.Raw >= HumidityScale.End || state.IsOpen)
        {
            return true;
        }

        state.Lose();
        return false;
    }
}
