using Chamber.Service.Boards;

namespace Chamber.Club.Boards;

/// <summary>Rules for a Prometheus that scrapes the processes of a club.</summary>
internal static class ClubRules
{
    public const string FileName = "chamber-club-rules.yml";

    public static IReadOnlyList<AlertRule> All { get; } =
    [
        new("ClubProcessDown", "up{job=\"chamber-club\"} == 0", "5m", "urgent", "{{ $labels.instance }} of the club cannot be reached.",
            "Look at it: systemctl status 'chamber-club-*'"),
        new("ClubDatabaseAway", "max(chamber_club_database_away) > 0", "2m", "danger",
            "The database does not answer: nothing is acknowledged, and nobody is watched.", "Look at PostgreSQL and its disk."),
        new("ClubNobodyReceives", "sum(chamber_club_slots_held) == 0", "5m", "urgent",
            "No intake holds a slot: readings wait at the broker.", "Start one: chamber-club intake"),
        new("ClubNobodyWatches", "max(chamber_club_silos) == 0", "5m", "danger", "No silo is at work: nobody is told of anything.",
            "Start one: chamber-club silo"),
        new("ClubNoReadings", "sum(increase(chamber_club_readings_total[1h])) == 0 and on() max(chamber_club_homes) > 0", "15m", "urgent",
            "No reading of any home was new for an hour.", "Is the broker reachable for sensors, and has its disk room?"),
        new("ClubCommitsFail", "sum(increase(chamber_club_commit_failures_total[15m])) > 3", "0m", "urgent",
            "Readings could not be kept {{ $value }} times in 15 minutes.", "The log of the intake has the reason."),
        new("ClubSlowToAcknowledge", "histogram_quantile(0.95, sum by (le) (rate(chamber_club_acknowledge_duration_seconds_bucket[15m])))"
            + " > 30", "15m", "warning", "Sensors wait {{ $value | humanizeDuration }} until their readings are safe.",
            "Is the database slow, or is an intake too few?"),
        new("ClubLooksFail", "sum(increase(chamber_club_look_failures_total[15m])) > 3", "0m", "urgent",
            "Homes could not be looked at {{ $value }} times in 15 minutes.", "The log of the silo has the reason."),
        new("ClubNoticesWait", "sum(chamber_club_outbox_waiting) > 100", "30m", "warning", "{{ $value }} notices wait to be sent.",
            "Does the mail server answer? The log of the silo has the reason."),
    ];

    public static string Text() => AlertRules.Text(All, "chamber-club",
        "Alert rules for a Prometheus whose job for the processes of a club is named chamber-club: docs/club-operation.md. Written by "
        + "chamber-club boards.");
}
