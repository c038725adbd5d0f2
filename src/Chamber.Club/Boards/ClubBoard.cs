using Chamber.Service.Boards;

namespace Chamber.Club.Boards;

/// <summary>How a club is, from what its processes count (docs/club-operation.md): whether readings come in, are safe in time, and are
/// looked at.</summary>
internal static class ClubBoard
{
    public const string Name = "chamber-club";

    private const string Every = "$__rate_interval";
    private static readonly IReadOnlyList<BoardStep> Wait = [new(null, "green"), new(2, "yellow"), new(30, "red")];

    public static Board Make() => new(
        Name,
        "Chamber: the club",
        "Whether readings of all homes come in, are safe in time, and are looked at.",
        "now-6h",
        [],
        new("max(chamber_club_database_away) > 0", "the database is away"),
        [
            Small("Silos at work", "max(chamber_club_silos)") with { Steps = [new(null, "red"), new(1, "green")] },
            Small("Slots held", "sum(chamber_club_slots_held)") with { Steps = [new(null, "red"), new(1, "green")] },
            Small("Homes watched", "sum(chamber_club_homes_active)"),
            Small("Homes there are", "max(chamber_club_homes)"),
            Small("Database", "max(chamber_club_database_away)") with
            {
                Words = [new(0, "Answers", "green"), new(1, "Away", "red")],
            },
            Small("Its size", "max(chamber_club_database_size_bytes)") with { Unit = "bytes" },
            Small("Notices that wait", "sum(chamber_club_outbox_waiting)"),
            Small("Homes learned from", "max(chamber_club_learned_homes)"),
            new("timeseries", "Readings a second", "none", new BoardQuery(Rate("chamber_club_readings_total"), "readings"),
                new BoardQuery(Rate("chamber_club_refusals_total"), "refused"),
                new BoardQuery(Rate("chamber_club_strangers_total"), "of no home")) { Min = 0 },
            new("timeseries", "From arrival to acknowledged", "s", Quantile("chamber_club_acknowledge_duration_seconds", 0.5),
                Quantile("chamber_club_acknowledge_duration_seconds", 0.95)) { Min = 0, Steps = Wait },
            new("timeseries", "Commit", "s", Quantile("chamber_club_commit_duration_seconds", 0.5),
                Quantile("chamber_club_commit_duration_seconds", 0.95)) { Min = 0 },
            new("timeseries", "Look at a home", "s", Quantile("chamber_club_look_duration_seconds", 0.5),
                Quantile("chamber_club_look_duration_seconds", 0.95)) { Min = 0 },
            new("timeseries", "What failed, a second", "none", new BoardQuery(Rate("chamber_club_commit_failures_total"), "commits"),
                new BoardQuery(Rate("chamber_club_look_failures_total"), "looks"),
                new BoardQuery(Rate("chamber_club_notices_failed_total"), "notices")) { Min = 0 },
            new("timeseries", "Alerts told and notices sent, an hour", "none",
                new BoardQuery($"3600 * {Rate("chamber_club_alerts_told_total")}", "alerts"),
                new BoardQuery($"3600 * {Rate("chamber_club_notices_sent_total")}", "notices")) { Min = 0 },
            new("timeseries", "Messages a second", "none", new BoardQuery(Rate("chamber_club_messages_total"), "kept")) { Min = 0 },
            new("timeseries", "Homes watched, by silo", "none", new BoardQuery("chamber_club_homes_active > 0", "{{instance}}"))
            { Min = 0 },
            new("timeseries", "Sites of the pages", "none", new BoardQuery("sum(chamber_club_sites)", "homes with a page open"))
            { Min = 0 },
            new("timeseries", "Memory, by process", "bytes",
                new BoardQuery("process_resident_memory_bytes and on(job, instance) chamber_club_slots_held", "{{instance}}")) { Min = 0 },
        ]);

    private static BoardPanel Small(string title, string query) =>
        new("stat", title, "none", new BoardQuery(query)) { Width = 6, Height = 4 };

    private static string Rate(string counter) => $"sum(rate({counter}[{Every}]))";

    private static BoardQuery Quantile(string histogram, double share) => new(
        FormattableString.Invariant($"histogram_quantile({share}, sum by (le) (rate({histogram}_bucket[{Every}])))"),
        FormattableString.Invariant($"{share * 100:0} % are faster"));
}
