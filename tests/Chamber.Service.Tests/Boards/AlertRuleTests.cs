using Chamber.Service.Boards;
using Chamber.Testing;

namespace Chamber.Service.Tests.Boards;

/// <summary>The alert rules for a Prometheus, judged by its own tool: promtool of Debian's package checks them, and plays made-up series to
/// each. Numbers are invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class AlertRuleTests
{
    private const string Job = "job=\"chamber\",instance=\"box\"";

    /// <summary>Of each rule: series while something is wrong, when it is told, and series while nothing is.</summary>
    private static readonly (string Rule, string Wrong, string Right)[] Cases =
    [
        ("ChamberDown", $"up{{{Job}}}: 0x180", $"up{{{Job}}}: 1x180"),
        ("ChamberNotReady", $"chamber_ready{{{Job}}}: 0x180", $"chamber_ready{{{Job}}}: 1x180"),
        ("ChamberRestarts", $"process_start_time_seconds{{{Job}}}: 0+30x180", $"process_start_time_seconds{{{Job}}}: 5x180"),
        ("ChamberDanger", $"chamber_alerts_open{{{Job},severity=\"danger\"}}: 1x180",
            $"chamber_alerts_open{{{Job},severity=\"note\"}}: 4x180"),
        ("ChamberUrgent", $"chamber_alerts_open{{{Job},severity=\"urgent\"}}: 2x180",
            $"chamber_alerts_open{{{Job},severity=\"urgent\"}}: 0x180"),
        ("ChamberCommitsFail", $"chamber_commit_failures_total{{{Job}}}: 0+1x180", $"chamber_commit_failures_total{{{Job}}}: 7x180"),
        ("ChamberQueueFills", $"chamber_queue_length{{{Job}}}: 900x180; chamber_queue_limit{{{Job}}}: 1000x180",
            $"chamber_queue_length{{{Job}}}: 400x180; chamber_queue_limit{{{Job}}}: 1000x180"),
        ("ChamberNoReadings", $"chamber_readings_total{{{Job}}}: 5x180; chamber_probe_silence_limit_seconds{{{Job},probe=\"p\"}}: 7200x180",
            $"chamber_readings_total{{{Job}}}: 5x180"),
        ("ChamberProbeSilent", $"chamber_probe_last_reading_timestamp_seconds{{{Job},probe=\"p\"}}: 0x180; "
            + $"chamber_probe_silence_limit_seconds{{{Job},probe=\"p\"}}: 3600x180",
            $"chamber_probe_last_reading_timestamp_seconds{{{Job},probe=\"p\"}}: 0+60x180; "
            + $"chamber_probe_silence_limit_seconds{{{Job},probe=\"p\"}}: 3600x180"),
        ("ChamberBatteryWeak", $"chamber_probe_battery_percent{{{Job},probe=\"p\"}}: 9x180",
            $"chamber_probe_battery_percent{{{Job},probe=\"p\"}}: 80x180"),
        ("ChamberNoticesFail", $"chamber_notices_dead{{{Job}}}: 1x180", $"chamber_notices_dead{{{Job}}}: 0x180"),
        ("ChamberMirrorBehind", $"chamber_mirror_lag_seconds{{{Job}}}: 7200x180", $"chamber_mirror_lag_seconds{{{Job}}}: 30x180"),
        ("ChamberMirrorRefuses", $"chamber_mirror_refused_total{{{Job}}}: 0+2x180", $"chamber_mirror_refused_total{{{Job}}}: 9x180"),
    ];

    [Fact]
    public void The_file_is_what_the_list_gives() =>
        Assert.Equal(AlertRules.Text(), File.ReadAllText(SourceTree.Path("dashboards", AlertRules.FileName)));

    [Fact]
    public async Task Its_own_tool_accepts_the_rules() =>
        Assert.Contains($"SUCCESS: {AlertRules.All.Count} rules found", (await RunningProgram.Run("promtool",
            ["check", "rules", SourceTree.Path("dashboards", AlertRules.FileName)])).Succeeded(), StringComparison.Ordinal);

    [Fact]
    public async Task Each_rule_tells_what_is_wrong_and_is_silent_else()
    {
        Assert.Equal(AlertRules.All.Select(rule => rule.Name), Cases.Select(one => one.Rule));
        using var folder = new TempFolder();
        var tests = Cases.Select(one => Test(one.Rule, one.Wrong, isTold: true) + Test(one.Rule, one.Right, isTold: false));
        var file = folder.Write("tests.yml",
            $"rule_files: ['{SourceTree.Path("dashboards", AlertRules.FileName)}']\nevaluation_interval: 1m\ntests:\n{string.Concat(tests)}");

        var outcome = await RunningProgram.Run("promtool", ["test", "rules", file]);

        Assert.True(outcome.ExitCode == 0, outcome.Output + outcome.Errors);
    }

    // Whether it is told after three hours: as a series of 1 among the alerts that fire.
    private static string Test(string rule, string series, bool isTold) =>
        $"  - interval: 1m\n    input_series:\n{string.Concat(series.Split("; ").Select(Series))}"
        + $"    promql_expr_test:\n      - expr: 'count(ALERTS{{alertname=\"{rule}\",alertstate=\"firing\"}})'\n        eval_time: 3h\n"
        + (isTold ? "        exp_samples: [ { value: 1 } ]\n" : "        exp_samples: []\n");

    private static string Series(string series)
    {
        var end = series.LastIndexOf(": ", StringComparison.Ordinal);
        return $"      - series: '{series[..end]}'\n        values: '{series[(end + 2)..]}'\n";
    }
}
