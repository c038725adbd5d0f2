using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.TooHot;

/// <summary>A temperature of the spot, for one batch.</summary>
/// <param name="At">When.</param>
/// <param name="Celsius">°C.</param>
/// <param name="HotLimit">°C: until the first are up that of coming up, then that of seedlings.</param>
/// <param name="Hold">For how long it must be hotter, by the probe that says so.</param>
internal readonly record struct TooHotInput(Moment At, double Celsius, double HotLimit, TimeSpan Hold);

/// <summary>Too hot: above the limit of what is there for long enough to reach the seed.</summary>
internal static class TooHotRule
{
    /// <summary>Takes a temperature into the state, and says whether the condition opens or closes by it.</summary>
    public static Transition Step(ref HeldCondition state, in TooHotInput input, TooHotLimits limits) => state.Judge(
        input.At, input.Celsius > input.HotLimit, input.Celsius <= input.HotLimit - limits.MarginKelvins, input.Hold, limits.ClearHold);

    /// <summary>Lets time pass in which the last temperature held.</summary>
    public static Transition Pass(ref HeldCondition state, Moment to, TimeSpan hold, TooHotLimits limits) =>
        state.Advance(to, hold, limits.ClearHold);
}
