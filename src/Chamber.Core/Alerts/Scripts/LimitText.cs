using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Limits;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>Limits by their names, as scripts and settings write them.</summary>
public static class LimitText
{
    private const string Form = "limit too hot hold 20 min";

    /// <summary>The same limits with one other, by its name: <c>too hot hold</c>, <c>20 min</c>.</summary>
    /// <exception cref="FormatException">There is no such limit, or the value cannot be one; the message gives the fix.</exception>
    public static WatchLimits Set(WatchLimits limits, string name, string value)
    {
        ArgumentNullException.ThrowIfNull(limits);
        var all = ConditionRegistry.Standard.Limits;
        var line = new ScriptLine("", 0, value);
        try
        {
            var limit = all.FirstOrDefault(known => known.Name == name) ?? throw Unknown(line, all);
            var changed = Set(limits, limit, line);
            line.End(Form);
            return changed;
        }
        catch (WatchScriptException wrong)
        {
            throw new FormatException($"{wrong.Bare}.", wrong);
        }
    }

    /// <summary>Takes a limit and its value from a line.</summary>
    internal static WatchLimits Parse(ScriptLine line, WatchLimits limits, IReadOnlyList<Limit> all) =>
        Set(limits, all.FirstOrDefault(limit => line.Take(limit.Name)) ?? throw Unknown(line, all), line);

    private static WatchLimits Set(WatchLimits limits, Limit limit, ScriptLine line) => limit switch
    {
        NumberLimit number => limits.With(number, line.Quantity(number.Name, Form, number.Bound)),
        TimeLimit time => limits.With(time, line.Duration(Form, Bounds.LimitHold).ToTimeSpan()),
        _ => throw new ArgumentOutOfRangeException(nameof(limit), limit, "No such kind of limit."),
    };

    private static WatchScriptException Unknown(ScriptLine line, IReadOnlyList<Limit> all) =>
        line.Wrong($"no limit has this name; the names are "
            + $"{string.Join(", ", all.Select(limit => limit.Name).Order(StringComparer.Ordinal))}");
}
