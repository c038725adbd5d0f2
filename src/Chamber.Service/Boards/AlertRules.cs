using System.Globalization;
using System.Text;
using Chamber.Core.Alerts.Conditions;

namespace Chamber.Service.Boards;

/// <summary>One rule by which a Prometheus tells people.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Expression">Has rows while something is wrong.</param>
/// <param name="For">For how long, before it is told.</param>
/// <param name="Severity">Word of the label <c>severity</c>.</param>
/// <param name="Summary">What is wrong, with labels in double braces.</param>
/// <param name="Fix">What to do.</param>
internal sealed record AlertRule(string Name, string Expression, string For, string Severity, string Summary, string Fix);

/// <summary>Rules for a Prometheus that scrapes <c>/metrics</c>: whether Chamber itself is well, which it cannot tell while it is down, and
/// what it has found, for homes that hear of everything in one way.</summary>
internal static class AlertRules
{
    public const string FileName = "chamber-rules.yml";

    public static IReadOnlyList<AlertRule> All { get; } =
    [
        new("ChamberDown", "up{job=\"chamber\"} == 0", "5m", "urgent", "Chamber cannot be reached, so nobody watches.",
            "Look at it: systemctl status chamber"),
        new("ChamberNotReady", "chamber_ready == 0", "5m", "urgent", "Chamber runs, and does not watch everything.",
            "Its page and /health say what is wrong, and the fix."),
        new("ChamberRestarts", "changes(process_start_time_seconds{job=\"chamber\"}[1h]) > 2", "0m", "warning",
            "Chamber was started {{ $value }} times in an hour.", "Look at its log: journalctl -u chamber"),
        new("ChamberDanger", "chamber_alerts_open{severity=\"danger\"} > 0", "0m", "danger",
            "{{ $value }} alerts of danger are open: people or the home may be hurt.", "Look at the page at once."),
        new("ChamberUrgent", "chamber_alerts_open{severity=\"urgent\"} > 0", "10m", "urgent", "{{ $value }} urgent alerts are open.",
            "Look at the page."),
        new("ChamberCommitsFail", "increase(chamber_commit_failures_total[15m]) > 0", "0m", "urgent",
            "Readings could not be stored {{ $value }} times in 15 minutes.", "Is the disk full, or read-only? The log has the reason."),
        new("ChamberQueueFills", "chamber_queue_length > 0.5 * chamber_queue_limit", "10m", "warning",
            "{{ $value }} messages wait to be stored; when the queue is full, they wait at their senders.",
            "Is the disk slow, or does something flood the broker?"),
        new("ChamberNoReadings", "increase(chamber_readings_total[2h]) == 0 and on(job, instance) count by (job, instance) "
            + "(chamber_probe_silence_limit_seconds) > 0", "15m", "urgent", "No reading has arrived for two hours.",
            "Is the broker reachable for the sensors?"),
        new("ChamberProbeSilent", "time() - chamber_probe_last_reading_timestamp_seconds > 2 * chamber_probe_silence_limit_seconds",
            "0m", "warning", "Probe {{ $labels.probe }} has been silent for {{ $value | humanizeDuration }}.",
            "Check its battery, and whether it is in reach."),
        new("ChamberBatteryWeak", FormattableString.Invariant(
            $"chamber_probe_battery_percent < {ConditionRegistry.UsualLimit("weak battery at")}"), "1h", "note",
            "The battery of probe {{ $labels.probe }} is at {{ $value }} %.", "Have another ready."),
        new("ChamberNoticesFail", "chamber_notices_dead > 0", "0m", "warning", "{{ $value }} notices were given up.",
            "chamber notices says which, and why."),
        new("ChamberMirrorBehind", "chamber_mirror_lag_seconds > 3600", "15m", "warning",
            "The mirror lacks readings that are {{ $value | humanizeDuration }} old.", "chamber mirror says why; nothing is lost."),
        new("ChamberMirrorRefuses", "increase(chamber_mirror_refused_total[1h]) > 0", "0m", "note",
            "The server of the mirror refused {{ $value }} lines for good.", "See mirror-refused.txt in the data directory."),
    ];

    /// <summary>The file, in the form that Prometheus loads by <c>rule_files</c>.</summary>
    public static string Text() => Text(All, "chamber",
        "Alert rules for a Prometheus whose job for Chamber is named chamber: docs/dashboards.md. Written by chamber boards.");

    /// <summary>The same of other rules.</summary>
    /// <param name="rules">The rules.</param>
    /// <param name="group">What their group is named.</param>
    /// <param name="remark">What stands above them, one line.</param>
    public static string Text(IReadOnlyList<AlertRule> rules, string group, string remark)
    {
        var text = new StringBuilder($"# {remark}\ngroups:\n  - name: {group}\n    rules:\n");
        foreach (var rule in rules)
        {
            text.Append(CultureInfo.InvariantCulture, $"""
                      - alert: {rule.Name}
                        expr: {Quoted(rule.Expression)}
                        for: {rule.For}
                        labels:
                          severity: {rule.Severity}
                        annotations:
                          summary: {Quoted(rule.Summary)}
                          description: {Quoted(rule.Fix)}

                """);
        }

        return text.ToString();
    }

    private static string Quoted(string text) => $"'{text.Replace("'", "''", StringComparison.Ordinal)}'";
}
