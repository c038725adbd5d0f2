using NodaTime;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>Limits set in a script, and their names.</summary>
internal static class ScriptLimits
{
    private const string Form = "limit too hot hold 20 min";

    private static readonly Dictionary<string, Func<WatchLimits, double, WatchLimits>> Numbers = new()
    {
        ["too cold lost hours"] = (limits, value) => limits with { ColdLostHours = value },
        ["too cold margin"] = (limits, value) => limits with { ColdMargin = value },
        ["too hot margin"] = (limits, value) => limits with { HotMargin = value },
        ["too hot for seedlings by"] = (limits, value) => limits with { SeedlingHotKelvins = value },
        ["hazard harm"] = (limits, value) => limits with { HarmCelsius = value },
        ["hazard danger"] = (limits, value) => limits with { DangerCelsius = value },
        ["hazard margin"] = (limits, value) => limits with { HazardMargin = value },
        ["swing cold hours"] = (limits, value) => limits with { SwingColdHours = value },
        ["swing hot hours"] = (limits, value) => limits with { SwingHotHours = value },
        ["survey stale by"] = (limits, value) => limits with { StaleKelvins = value },
        ["disagree by"] = (limits, value) => limits with { DisagreeKelvins = value },
        ["too wet above"] = (limits, value) => limits with { WetPercent = value },
        ["dry mix below"] = (limits, value) => limits with { DryPercentMix = value },
        ["dry towel below"] = (limits, value) => limits with { DryPercentTowel = value },
        ["moisture margin"] = (limits, value) => limits with { MoistureMargin = value },
        ["lid tight above"] = (limits, value) => limits with { LidTightPercent = value },
        ["lid dry below"] = (limits, value) => limits with { LidDryPercent = value },
        ["warm and dark above"] = (limits, value) => limits with { WarmDarkCelsius = value },
        ["warm and dark hours"] = (limits, value) => limits with { WarmDarkHours = value },
        ["weak battery at"] = (limits, value) => limits with { BatteryPercent = value },
        ["spike size"] = (limits, value) => limits with { SpikeKelvins = value },
    };

    private static readonly Dictionary<string, Func<WatchLimits, Duration, WatchLimits>> Times = new()
    {
        ["too cold clear"] = (limits, value) => limits with { ColdClearHold = value },
        ["too hot hold"] = (limits, value) => limits with { HotHold = value },
        ["too hot air hold"] = (limits, value) => limits with { HotHoldAir = value },
        ["too hot clear"] = (limits, value) => limits with { HotClearHold = value },
        ["survey stale hold"] = (limits, value) => limits with { StaleHold = value },
        ["disagree hold"] = (limits, value) => limits with { DisagreeHold = value },
        ["too wet mix hold"] = (limits, value) => limits with { WetHoldMix = value },
        ["too wet towel hold"] = (limits, value) => limits with { WetHoldTowel = value },
        ["drying out hold"] = (limits, value) => limits with { DryHold = value },
        ["lid tight hold"] = (limits, value) => limits with { LidTightHold = value },
        ["lid dry hold"] = (limits, value) => limits with { LidDryHold = value },
        ["cover mix hold"] = (limits, value) => limits with { CoverHoldMix = value },
        ["cover towel hold"] = (limits, value) => limits with { CoverHoldTowel = value },
        ["flat line hold"] = (limits, value) => limits with { FlatHold = value },
        ["saturated hold"] = (limits, value) => limits with { SaturatedHold = value },
        ["hazard clear"] = (limits, value) => limits with { HazardClearHold = value },
    };

    /// <summary>Sets one limit by its name and the text of its value.</summary>
    public static WatchLimits Set(WatchLimits limits, string name, string value)
    {
        var line = new ScriptLine("", 0, value);
        try
        {
            var changed = Numbers.TryGetValue(name, out var number) ? number(limits, Positive(line, name))
                : Times.TryGetValue(name, out var time) ? time(limits, line.Duration(Form))
                : throw line.Wrong($"no limit has this name; the names are {string.Join(", ", Names)}");
            line.End(Form);
            return changed;
        }
        catch (WatchScriptException wrong)
        {
            throw new FormatException($"{wrong.Bare}.", wrong);
        }
    }

    private static double Positive(ScriptLine line, string name) =>
        line.Quantity(name, Form) is > 0 and var value ? value : throw line.Wrong($"{name} is more than 0");

    /// <summary>The names of all limits, for messages and docs.</summary>
    public static IEnumerable<string> Names => Numbers.Keys.Concat(Times.Keys).Order(StringComparer.Ordinal);

    public static WatchLimits Parse(ScriptLine line, WatchLimits limits)
    {
        foreach (var (name, set) in Numbers)
        {
            if (line.Take(name))
            {
                return set(limits, Positive(line, name));
            }
        }

        foreach (var (name, set) in Times)
        {
            if (line.Take(name))
            {
                return set(limits, line.Duration(Form));
            }
        }

        throw line.Wrong($"no limit has this name; the names are {string.Join(", ", Names)}");
    }
}
