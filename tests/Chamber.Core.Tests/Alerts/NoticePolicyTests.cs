using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Notices;
using Chamber.Core.Climate;
using Chamber.Core.Forecasts;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>What people are told and when: waits and counts are common practice, no source.</summary>
public sealed class NoticePolicyTests
{
    private static readonly Instant Noon = Instant.FromUtc(2026, 3, 2, 12, 0);
    private static readonly QuietHours Night = new(new(22, 0), new(7, 0));
    private static readonly HomeFacts Facts = new();

    private readonly List<AlertStanding> alerts = [];

    [Fact]
    public void An_alert_is_told_once()
    {
        Add(Raised(AlertKind.TooCold, Severity.Warning, Noon));
        Assert.Equal([NoticeReason.Opened], Reasons(Noon));
        Assert.Empty(Reasons(Noon + Duration.FromHours(1)));
    }

    [Fact]
    public void What_was_decided_and_not_written_down_is_decided_again()
    {
        Add(Raised(AlertKind.TooCold, Severity.Warning, Noon));
        var first = Assert.Single(NoticePolicy.Decide(alerts, Facts, Night, Noon));
        var second = Assert.Single(NoticePolicy.Decide(alerts, Facts, Night, Noon));
        Assert.Equal(first, second);
    }

    [Fact]
    public void Worse_is_told_at_once_and_starts_its_own_count()
    {
        Add(Raised(AlertKind.WarmAndDark, Severity.Warning, Noon));
        Reasons(Noon);
        alerts[0] = alerts[0] with { Alert = alerts[0].Alert with { Severity = Severity.Urgent } };
        Assert.Equal([NoticeReason.Worse], Reasons(Noon + Duration.FromMinutes(1)));
        Assert.Equal(1, alerts[0].Notified.Times);
    }

    [Fact]
    public void A_warning_nobody_has_seen_is_told_three_times_a_day_apart_then_no_more()
    {
        Add(Raised(AlertKind.TooCold, Severity.Warning, Noon));
        Assert.Equal([0, 24, 48], Hours(0, 200));
    }

    [Fact]
    public void One_that_was_seen_is_not_told_again()
    {
        Add(Raised(AlertKind.TooCold, Severity.Warning, Noon));
        Reasons(Noon);
        alerts[0] = alerts[0] with { SeenAt = Noon + Duration.FromHours(2) };
        Assert.Empty(Hours(1, 200));
    }

    [Fact]
    public void What_got_worse_after_it_was_seen_counts_as_unseen()
    {
        Add(Raised(AlertKind.Hazard, Severity.Urgent, Noon) with { SeenAt = Noon });
        Reasons(Noon);
        alerts[0] = alerts[0] with { Alert = alerts[0].Alert with { Severity = Severity.Danger } };
        Assert.Equal([NoticeReason.Worse], Reasons(Noon + Duration.FromHours(1)));
        Assert.Equal([NoticeReason.Again], Reasons(Noon + Duration.FromHours(1) + Duration.FromMinutes(15)));
    }

    [Fact]
    public void Danger_repeats_every_15_minutes_and_uses_every_channel_from_the_third()
    {
        Add(Raised(AlertKind.Hazard, Severity.Danger, Noon));
        var escalated = new List<bool>();
        for (var minute = 0; minute <= 45; minute += 15)
        {
            escalated.AddRange(Take(Noon + Duration.FromMinutes(minute)).Select(decision => decision.Escalated));
        }

        Assert.Equal([false, false, true, true], escalated);
        alerts[0] = alerts[0] with { SeenAt = Noon + Duration.FromMinutes(50) };
        Assert.Empty(Reasons(Noon + Duration.FromMinutes(60)));
        Assert.False(Assert.Single(Take(Noon + Duration.FromMinutes(45 + 120))).Escalated);
    }

    [Fact]
    public void A_note_is_told_once_but_a_look_that_is_due_is_asked_for_on_three_days()
    {
        Add(Raised(AlertKind.WeakBattery, Severity.Note, Noon));
        Add(Raised(AlertKind.LookNow, Severity.Note, Noon, AlertSubject.Of(new Core.Batches.BatchId("T1"))));
        Assert.Equal([0, 0, 24, 48], Hours(0, 200));
    }

    [Fact]
    public void In_quiet_hours_only_a_hazard_is_told_and_the_rest_in_the_morning()
    {
        var midnight = Noon + Duration.FromHours(12);
        Add(Raised(AlertKind.TooCold, Severity.Warning, midnight));
        Add(Raised(AlertKind.Hazard, Severity.Urgent, midnight));
        Assert.Equal([AlertKind.Hazard], Take(midnight).Select(decision => decision.Alert.Kind));
        Assert.Equal([AlertKind.TooCold], Take(midnight + Duration.FromHours(7)).Where(decision => decision.Reason == NoticeReason.Opened)
            .Select(decision => decision.Alert.Kind));
    }

    [Fact]
    public void What_came_and_went_in_quiet_hours_wakes_nobody_and_stays_untold()
    {
        var midnight = Noon + Duration.FromHours(12);
        Add(Raised(AlertKind.TooCold, Severity.Warning, midnight));
        Reasons(midnight);
        Close(0, midnight + Duration.FromHours(3));
        Assert.Empty(Reasons(midnight + Duration.FromHours(7)));
    }

    [Fact]
    public void A_hazard_that_was_over_before_it_could_be_told_is_told_as_missed()
    {
        Add(Raised(AlertKind.Hazard, Severity.Urgent, Noon));
        Close(0, Noon + Duration.FromMinutes(30));
        Assert.Equal([NoticeReason.Missed], Reasons(Noon + Duration.FromHours(5)));
        Assert.Empty(Reasons(Noon + Duration.FromHours(6)));
    }

    [Fact]
    public void The_end_is_told_to_those_who_were_told_of_a_warning()
    {
        Add(Raised(AlertKind.TooCold, Severity.Warning, Noon));
        Add(Raised(AlertKind.WeakBattery, Severity.Note, Noon));
        Reasons(Noon);
        Close(0, Noon + Duration.FromHours(1));
        Close(1, Noon + Duration.FromHours(1));
        Assert.Equal([AlertKind.TooCold], Take(Noon + Duration.FromHours(1)).Select(decision => decision.Alert.Kind));
        Assert.Empty(Reasons(Noon + Duration.FromHours(2)));
    }

    [Fact]
    public void An_end_that_another_alert_tells_and_one_of_long_ago_are_not_told()
    {
        Add(Raised(AlertKind.SilentProbe, Severity.Warning, Noon));
        Add(Raised(AlertKind.TooCold, Severity.Warning, Noon));
        Reasons(Noon);
        Close(0, Noon + Duration.FromHours(1), CloseReason.OtherCause);
        Close(1, Noon + Duration.FromHours(1));
        Assert.Empty(Reasons(Noon + Duration.FromHours(26)));
    }

    [Fact]
    public void A_muted_alert_is_quiet_until_then_unless_it_turns_into_danger()
    {
        Add(Raised(AlertKind.Hazard, Severity.Urgent, Noon));
        Reasons(Noon);
        alerts[0] = alerts[0] with { MutedUntil = Noon + Duration.FromHours(5) };
        Assert.Empty(Reasons(Noon + Duration.FromHours(4)));
        alerts[0] = alerts[0] with { Alert = alerts[0].Alert with { Severity = Severity.Danger } };
        Assert.Equal([NoticeReason.Worse], Reasons(Noon + Duration.FromHours(4)));
        Assert.Empty(Reasons(Noon + Duration.FromHours(4.5)));
        Assert.Equal([NoticeReason.Again], Reasons(Noon + Duration.FromHours(5)));
    }

    [Fact]
    public void What_comes_and_goes_is_told_once_in_six_hours()
    {
        Add(Raised(AlertKind.TooHot, Severity.Warning, Noon));
        Reasons(Noon);
        Close(0, Noon + Duration.FromHours(1));
        Reasons(Noon + Duration.FromHours(1));
        Add(Raised(AlertKind.TooHot, Severity.Warning, Noon + Duration.FromHours(2)));
        Assert.Empty(Reasons(Noon + Duration.FromHours(6)));
        Assert.Equal([NoticeReason.Opened], Reasons(Noon + Duration.FromHours(7)));
    }

    [Fact]
    public void Under_maintenance_nothing_of_that_spot_is_told_but_danger()
    {
        var shelf = new SpotId("shelf");
        var probe = new ProbeId("p1");
        var facts = new HomeFacts
        {
            Maintenance = [new(shelf, new(Noon, Noon + Duration.FromHours(2)))],
            Stations = [new(probe, shelf, new(Noon, null))],
        };
        Add(Raised(AlertKind.TooHot, Severity.Warning, Noon, AlertSubject.Of(shelf)));
        Add(Raised(AlertKind.FaultyProbe, Severity.Warning, Noon, AlertSubject.Of(probe)));
        Add(Raised(AlertKind.TooHot, Severity.Warning, Noon, AlertSubject.Of(new SpotId("sill"))));
        Add(Raised(AlertKind.Hazard, Severity.Danger, Noon, AlertSubject.Of(shelf)));
        Assert.Equal(["shelf danger", "sill warning"], Take(Noon, facts).Select(Say));
        Assert.Equal(["p1 warning", "shelf warning"],
            Take(Noon + Duration.FromHours(2), facts).Where(decision => decision.Reason == NoticeReason.Opened).Select(Say).Order());
    }

    [Fact]
    public void Under_maintenance_of_the_home_nothing_is_told()
    {
        var facts = new HomeFacts { Maintenance = [new(null, new(Noon, Noon + Duration.FromHours(2)))] };
        Add(Raised(AlertKind.NothingHeard, Severity.Warning, Noon, AlertSubject.Home));
        Assert.Empty(Take(Noon, facts));
    }

    private static string Say(NoticeDecision decision) => $"{decision.Alert.Subject} {decision.Alert.Severity}".ToLowerInvariant();

    private static AlertStanding Raised(AlertKind kind, Severity severity, Instant at, AlertSubject? subject = null) =>
        new(0, new(kind, subject ?? AlertSubject.Of(new SpotId("shelf")), severity, at, at, null, null, new(null, at, at, []), []));

    private void Add(AlertStanding standing) => alerts.Add(standing with { Number = alerts.Count + 1 });

    private void Close(int index, Instant at, CloseReason reason = CloseReason.Over) =>
        alerts[index] = alerts[index] with { Alert = alerts[index].Alert with { ClosedAt = at, CloseReason = reason } };

    /// <summary>Decides, and records that it was reported.</summary>
    private IReadOnlyList<NoticeDecision> Take(Instant now, HomeFacts? facts = null)
    {
        var decisions = NoticePolicy.Decide(alerts, facts ?? Facts, Night, now);
        foreach (var decision in decisions)
        {
            var index = alerts.FindIndex(standing => standing.Number == decision.Number);
            alerts[index] = alerts[index] with { Notified = decision.Notified };
        }

        return decisions;
    }

    private List<NoticeReason> Reasons(Instant now) => [.. Take(now).Select(decision => decision.Reason)];

    /// <summary>The hours after noon in which something is told.</summary>
    private List<int> Hours(int from, int to) =>
        [.. Enumerable.Range(from, to - from).SelectMany(hour => Take(Noon + Duration.FromHours(hour)).Select(_ => hour))];
}
