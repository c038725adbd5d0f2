using System.Globalization;
using System.Reflection;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Scripts;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>
/// A near miss is near: were a limit a tenth higher or lower, a script would come out otherwise. Sources stand beside the limits.
/// </summary>
public sealed class NearMissTests
{
    private static readonly (string Name, string Text)[] Scripts = [.. WatchScriptFiles.All.Select(name => (name, WatchScriptFiles.Read(name)))];
    private static readonly WatchLimits Defaults = new();

    public static TheoryData<string> Limits => [.. ScriptLimits.Names];

    [Theory]
    [MemberData(nameof(Limits))]
    public void A_limit_moved_by_a_tenth_is_seen_by_a_script(string limit)
    {
        // Probes are compared by whole hours, of which a tenth of six is none.
        var part = limit == "disagree hold" ? 0.2 : 0.1;
        foreach (var factor in new[] { 1 - part, 1 + part })
        {
            var moved = Defaults.With(limit, Moved(limit, factor));
            Assert.True(Array.Exists(Scripts, script => IsOtherwise(script, moved)), string.Create(CultureInfo.InvariantCulture, $"Every script comes out the same with \"{limit}\" times {factor}."));
        }
    }

    private static bool IsOtherwise((string Name, string Text) script, WatchLimits limits) =>
        WatchScript.Parse(script.Name, script.Text, limits).Run().Failures.Count > 0;

    // A limit's name in scripts is not that of its property: it is the one that changes when it is set.
    private static string Moved(string limit, double factor)
    {
        var isTime = limit.EndsWith("hold", StringComparison.Ordinal) || limit.EndsWith("clear", StringComparison.Ordinal);
        var other = Defaults.With(limit, isTime ? "77 min" : "7.7");
        var property = typeof(WatchLimits).GetProperties(BindingFlags.Public | BindingFlags.Instance).Single(known => !Equals(known.GetValue(Defaults), known.GetValue(other)));
        return property.GetValue(Defaults) is Duration time
            ? string.Create(CultureInfo.InvariantCulture, $"{time.TotalMinutes * factor} min")
            : string.Create(CultureInfo.InvariantCulture, $"{(double)property.GetValue(Defaults)! * factor}");
    }
}
