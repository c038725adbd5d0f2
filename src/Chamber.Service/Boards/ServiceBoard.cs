namespace Chamber.Service.Boards;

/// <summary>How the service itself is, from the metrics that a scraper fetches (docs/operations.md).</summary>
internal static class ServiceBoard
{
    private const string Every = "$__rate_interval";

    public static Board Make() => new(
        "chamber-service",
        "Chamber: the service",
        "Whether readings come in, are stored in time, and get where they are to go.",
        "now-6h",
        [],
        [
            new("timeseries", "Readings a second", "none", new BoardQuery(Rate("chamber_readings_total"), "readings")),
            new("timeseries", "Refused a second, by reason", "none",
                new BoardQuery($"sum by (reason) ({Rate("chamber_refusals_total")})", "{{reason}}")),
            new("timeseries", "Commit, flush included", "s", Quantile("chamber_commit_duration_seconds", 0.5),
                Quantile("chamber_commit_duration_seconds", 0.95)),
            new("timeseries", "From arrival to stored", "s", Quantile("chamber_lag_seconds", 0.5), Quantile("chamber_lag_seconds", 0.95)),
            new("timeseries", "Fold of what was committed", "s", Quantile("chamber_fold_duration_seconds", 0.5),
                Quantile("chamber_fold_duration_seconds", 0.95)),
            new("timeseries", "Messages that wait", "none", new BoardQuery("chamber_queue_length", "waiting"),
                new BoardQuery("chamber_queue_limit", "bound")),
            new("timeseries", "Alerts that are open", "none", new BoardQuery("sum by (severity) (chamber_alerts_open)", "{{severity}}")),
            new("timeseries", "Notices", "none", new BoardQuery("chamber_notices_waiting", "waiting"),
                new BoardQuery("chamber_notices_dead", "given up")),
            new("stat", "Commits that failed", "none", new BoardQuery("chamber_commit_failures_total")) { Width = 6, Height = 4 },
            new("stat", "Data file", "bytes", new BoardQuery("chamber_database_size_bytes")) { Width = 6, Height = 4 },
            new("stat", "Mirror is behind", "s", new BoardQuery("chamber_mirror_lag_seconds")) { Width = 6, Height = 4 },
            new("stat", "Readings it has not got", "none", new BoardQuery("chamber_mirror_unsent")) { Width = 6, Height = 4 },
        ]);

    private static string Rate(string counter) => $"rate({counter}[{Every}])";

    private static BoardQuery Quantile(string histogram, double share) => new(
        FormattableString.Invariant($"histogram_quantile({share}, sum by (le) (rate({histogram}_bucket[{Every}])))"),
        FormattableString.Invariant($"{share * 100:0} % are faster"));
}
