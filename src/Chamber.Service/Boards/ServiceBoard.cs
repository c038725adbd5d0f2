using Chamber.Core.Climate;

namespace Chamber.Service.Boards;

/// <summary>How the service itself is, from the metrics that a scraper fetches (docs/operations.md).</summary>
internal static class ServiceBoard
{
    public const string Name = "chamber-service";

    private const string Every = "$__rate_interval";

    private static readonly IReadOnlyList<BoardStep> Lag = [new(null, "green"), new(600, "yellow"), new(3600, "red")];

    public static Board Make(BoardScale scale) => new(
        Name,
        "Chamber: the service",
        "Whether readings come in, are stored in time, and get where they are to go.",
        "now-6h",
        [],
        new("sum by (severity) (chamber_alerts_open) > 0", "{{severity}}"),
        [
            Small("Watching", Looks.Plain, "chamber_ready") with { Words = [new(1, "Yes", "green"), new(0, "No", "red")] },
            Small("Version", Looks.Plain, "chamber_build_info", "{{version}}") with { ShowsName = true },
            Small("Running since", "dateTimeFromNow", "1000 * process_start_time_seconds and on(job, instance) chamber_build_info"),
            Small("Commits that failed", Looks.Plain, "chamber_commit_failures_total") with { Steps = Looks.None },
            new("table", "The last of each probe", Looks.Plain,
                new BoardQuery("time() - chamber_probe_last_reading_timestamp_seconds", "Seconds ago"),
                new BoardQuery(scale.Temperature("chamber_probe_temperature_celsius"), scale.Scale.Unit()),
                new BoardQuery("chamber_probe_humidity_percent", "Humidity, %"),
                new BoardQuery("chamber_probe_battery_percent", "Battery, %"))
            { Width = 24, Columns = [new("probe", "Probe"), new("spot", "Spot", SpotBoard.Name)] },
            new("timeseries", "Readings a second", Looks.Plain, new BoardQuery(Rate("chamber_readings_total"), "readings")) { Min = 0 },
            new("timeseries", "Refused a second, by reason", Looks.Plain,
                new BoardQuery($"sum by (reason) ({Rate("chamber_refusals_total")})", "{{reason}}")) { Min = 0 },
            new("timeseries", "Commit, flush included", "s", Quantile("chamber_commit_duration_seconds", 0.5),
                Quantile("chamber_commit_duration_seconds", 0.95)) { Min = 0 },
            new("timeseries", "From arrival to stored", "s", Quantile("chamber_lag_seconds", 0.5), Quantile("chamber_lag_seconds", 0.95))
            { Min = 0 },
            new("timeseries", "Fold of what was committed", "s", Quantile("chamber_fold_duration_seconds", 0.5),
                Quantile("chamber_fold_duration_seconds", 0.95)) { Min = 0 },
            new("timeseries", "Messages that wait", Looks.Plain, new BoardQuery("chamber_queue_length", "waiting"),
                new BoardQuery("chamber_queue_limit", "bound")) { Min = 0 },
            new("timeseries", "Alerts that are open", Looks.Plain,
                new BoardQuery("sum by (severity) (chamber_alerts_open)", "{{severity}}")) { Min = 0 },
            new("timeseries", "Notices", Looks.Plain, new BoardQuery("chamber_notices_waiting", "waiting"),
                new BoardQuery("chamber_notices_dead", "given up")) { Min = 0, Steps = Looks.None },
            new("timeseries", "Memory", "bytes", new BoardQuery("process_resident_memory_bytes and on(job, instance) chamber_build_info",
                "resident")) { Min = 0 },
            new("timeseries", "Processor, cores", Looks.Plain,
                new BoardQuery($"{Rate("process_cpu_seconds_total")} and on(job, instance) chamber_build_info", "in use")) { Min = 0 },
            Small("Data file", "bytes", "chamber_database_size_bytes"),
            Small("Mirror is behind", Looks.Seconds, "chamber_mirror_lag_seconds") with { Steps = Lag },
            Small("Readings it has not got", Looks.Plain, "chamber_mirror_unsent"),
            Small("Open files", Looks.Plain, "process_open_fds and on(job, instance) chamber_build_info"),
        ]);

    private static BoardPanel Small(string title, string unit, string query, string legend = "") =>
        new("stat", title, unit, new BoardQuery(query, legend)) { Width = 6, Height = 4 };

    private static string Rate(string counter) => $"rate({counter}[{Every}])";

    private static BoardQuery Quantile(string histogram, double share) => new(
        FormattableString.Invariant($"histogram_quantile({share}, sum by (le) (rate({histogram}_bucket[{Every}])))"),
        FormattableString.Invariant($"{share * 100:0} % are faster"));
}
