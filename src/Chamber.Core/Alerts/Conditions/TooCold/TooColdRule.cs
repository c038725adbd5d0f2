using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.TooCold;

/// <summary>A temperature of the spot, for one batch.</summary>
/// <param name="At">When.</param>
/// <param name="Celsius">°C.</param>
/// <param name="CoolLimit">°C, of the crop.</param>
/// <param name="IsUp">Whether the first are up: the limit is that of coming up, and seedlings grow best cool and bright.</param>
/// <param name="OwnLimit">°C, by somebody's own word, of seed and seedling; null as the crop has it.</param>
internal readonly record struct TooColdInput(Moment At, double Celsius, double CoolLimit, bool IsUp, double? OwnLimit = null);

/// <summary>Too cold: below the crop's cool limit, after enough progress was lost to cold within a day.</summary>
internal static class TooColdRule
{
    /// <summary>Takes a temperature into the state, and says whether the condition opens or closes by it.</summary>
    public static Transition Step(ref HeldCondition state, ref Losses losses, in TooColdInput input, TooColdLimits limits)
    {
        if (input.OwnLimit is { } own)
        {
            return state.Judge(input.At, input.Celsius < own, input.Celsius >= own + limits.MarginKelvins, limits.ClearHold,
                limits.ClearHold);
        }

        var isBad = !input.IsUp && input.Celsius < input.CoolLimit && losses.ToColdWithinDay(input.At) >= limits.LostHoursMin;
        var isGood = input.IsUp || input.Celsius >= input.CoolLimit + limits.MarginKelvins;
        return state.Judge(input.At, isBad, isGood, TimeSpan.Zero, limits.ClearHold);
    }

    /// <summary>Lets time pass in which the last temperature held.</summary>
    public static Transition Pass(ref HeldCondition state, Moment to, TimeSpan hold, TooColdLimits limits) =>
        state.Advance(to, hold, limits.ClearHold);
}
