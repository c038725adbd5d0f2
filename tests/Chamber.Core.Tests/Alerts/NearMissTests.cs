using System.Globalization;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Limits;
using Chamber.Core.Alerts.Scripts;

namespace Chamber.Core.Tests.Alerts;

/// <summary>A near miss is near: were a limit a tenth higher or lower, a script would come out otherwise.</summary>
public sealed class NearMissTests
{
    private static readonly (string Name, string Text)[] Scripts =
        [.. WatchScriptFiles.All.Select(name => (name, WatchScriptFiles.Read(name)))];
    private static readonly WatchLimits Defaults = new();

    public static TheoryData<string> Limits => [.. ConditionRegistry.Standard.Limits.Select(limit => limit.Name)];

    [Theory]
    [MemberData(nameof(Limits))]
    public void A_limit_moved_by_a_tenth_is_seen_by_a_script(string limit)
    {
        // Probes are compared by whole hours, of which a tenth of six is none.
        var part = limit == "disagree hold" ? 0.2 : 0.1;
        foreach (var factor in new[] { 1 - part, 1 + part })
        {
            var moved = LimitText.Set(Defaults, limit, Moved(limit, factor));
            Assert.True(Array.Exists(Scripts, script => IsOtherwise(script, moved)),
                string.Create(CultureInfo.InvariantCulture, $"Every script comes out the same with \"{limit}\" times {factor}."));
        }
    }

    private static bool IsOtherwise((string Name, string Text) script, WatchLimits limits) =>
        WatchScript.Parse(script.Name, script.Text, limits).Run().Failures.Count > 0;

    private static string Moved(string name, double factor) => ConditionRegistry.Standard.Limits.Single(limit => limit.Name == name) switch
    {
        TimeLimit time => string.Create(CultureInfo.InvariantCulture, $"{time.Usual.TotalMinutes * factor} min"),
        NumberLimit number => string.Create(CultureInfo.InvariantCulture, $"{number.Usual * factor}"),
        var other => throw new InvalidOperationException($"{other}"),
    };
}
