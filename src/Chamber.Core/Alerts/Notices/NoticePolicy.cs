using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Forecasts;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Notices;

/// <summary>
/// Decides what people are notified of and when: a function of the alerts as they stand in the ledger, so that a restart neither repeats
/// nor forgets. Waits and counts are common practice, no source; docs/alerts.md lists them.
/// </summary>
public static class NoticePolicy
{
    /// <summary>An alert that was over longer ago than this is no longer reported.</summary>
    public static readonly Duration Stale = Duration.FromHours(24);

    private const int EscalatesAfter = 2;

    // What lies further ahead than this was reported by a clock that has since been put back.
    private static readonly Duration ClockStep = Duration.FromMinutes(2);

    /// <summary>What to tell now, worst first.</summary>
    /// <param name="alerts">Those open, and those closed within the last <see cref="Stale"/>.</param>
    /// <param name="facts">For the home's zone, where batches and probes stand, and what is under maintenance.</param>
    /// <param name="quiet">Hours in which only a hazard is reported; null for none.</param>
    /// <param name="now">The present.</param>
    public static IReadOnlyList<NoticeDecision> Decide(IReadOnlyList<AlertStanding> alerts, HomeFacts facts, QuietHours? quiet, Instant now)
    {
        var isQuiet = quiet is { } hours && hours.Hold(now.InZone(facts.Zone).TimeOfDay);
        return
        [
            .. alerts.Select(standing => Decide(standing, alerts, facts, isQuiet, now)).OfType<NoticeDecision>()
                .OrderByDescending(decision => decision.Alert.Severity).ThenBy(decision => decision.Alert.OpenedAt)
                    .ThenBy(decision => decision.Number),
        ];
    }

    private static NoticeDecision? Decide(AlertStanding standing, IReadOnlyList<AlertStanding> all, HomeFacts facts,
        bool isQuiet, Instant now)
    {
        var isHazard = IsHazard(standing.Alert, facts);
        if ((isQuiet && !isHazard) || IsMuted(standing, now)
            || (standing.Alert.Severity < Severity.Danger && IsMaintained(standing.Alert, facts, now)))
        {
            return null;
        }

        return standing.Alert.IsOpen ? OfOpen(standing, all, facts, now) : isQuiet ? null : OfClosed(standing, facts, now);
    }

    private static NoticeDecision? OfOpen(AlertStanding standing, IReadOnlyList<AlertStanding> all, HomeFacts facts, Instant now)
    {
        var (severity, notified) = (standing.Alert.Severity, standing.Notified);
        if (notified.At is not { } last)
        {
            return IsFlapping(standing, all, facts, now) ? null : Tell(standing, NoticeReason.Opened, new(now, severity, now, 1, false));
        }

        if (severity > notified.Severity)
        {
            return Tell(standing, NoticeReason.Worse, new(now, severity, now, 1, false));
        }

        // Notified by a clock that has since been put back, nobody knows how long ago it was.
        var seen = standing.SeenAt is { } at && at >= (notified.SeverityAt ?? last);
        return RepeatRule.For(standing.Alert, seen, ConditionRegistry.Standard.Of(standing.Alert.Kind).IsReminder) is { } rule
            && notified.Times < rule.TimesMax && (now - last >= rule.Every || last > now + ClockStep)
            ? Tell(standing, NoticeReason.Again, notified with { At = now, Times = notified.Times + 1 },
                !seen && severity >= Severity.Urgent && notified.Times >= EscalatesAfter)
            : null;
    }

    private static NoticeDecision? OfClosed(AlertStanding standing, HomeFacts facts, Instant now)
    {
        var (alert, notified) = (standing.Alert, standing.Notified);
        if (now - alert.ClosedAt!.Value > Stale || alert.CloseReason is CloseReason.OtherCause)
        {
            return null;
        }

        if (notified.At is null)
        {
            return IsHazard(alert, facts) && alert.CloseReason == CloseReason.Over
                ? Tell(standing, NoticeReason.Missed, new(now, alert.Severity, now, 1, true))
                : null;
        }

        return notified is { Over: false, Severity: >= Severity.Warning }
            ? Tell(standing, NoticeReason.Over, notified with { At = now, Over = true }) : null;
    }

    // What comes and goes is one nuisance: reported again only when a repetition would be due.
    private static bool IsFlapping(AlertStanding standing, IReadOnlyList<AlertStanding> all, HomeFacts facts, Instant now) =>
        !IsHazard(standing.Alert, facts)
        && all.Any(other => other.Number != standing.Number && other.Alert.Kind == standing.Alert.Kind
            && other.Alert.Subject == standing.Alert.Subject
            && other.Notified is { At: { } at } notified && notified.Severity >= standing.Alert.Severity && at <= now + ClockStep
                && now - at < RepeatRule.Flapping);

    private static bool IsHazard(Alert alert, HomeFacts facts) => ConditionRegistry.Standard.Of(alert.Kind).IsHazard;

    private static bool IsMuted(AlertStanding standing, Instant now) =>
        standing.MutedUntil > now && !(standing.Alert is { IsOpen: true, Severity: Severity.Danger }
            && (standing.Notified.At is null || standing.Notified.Severity < Severity.Danger));

    private static bool IsMaintained(Alert alert, HomeFacts facts, Instant now) => facts.Maintenance.Any(work =>
        work.When.Contains(now) && (work.Spot is not { } spot || spot == SpotOf(alert.Subject, facts, now)));

    /// <summary>The spot that a subject is on; null for the home and for what stands nowhere.</summary>
    public static SpotId? SpotOf(AlertSubject subject, HomeFacts facts, Instant now) => subject.Kind switch
    {
        SubjectKind.Spot => new SpotId(subject.Name),
        SubjectKind.Probe =>
            facts.Stations.FirstOrDefault(station => station.Probe.Text == subject.Name && station.When.Contains(now))?.Spot,
        SubjectKind.Batch => facts.Batches.FirstOrDefault(known => known.Batch.Id.Text == subject.Name)?.Batch.Stays.FirstOrDefault(
            stay => stay.When.Contains(now))?.Spot,
        _ => null,
    };

    private static NoticeDecision Tell(AlertStanding standing, NoticeReason reason, Notified notified, bool escalated = false) =>
        new(standing.Number, standing.Alert, reason, escalated, notified);
}

/// <summary>When an alert that still holds is reported again.</summary>
/// <param name="Every">So long after it was reported last.</param>
/// <param name="TimesMax">So often in all at one severity.</param>
internal readonly record struct RepeatRule(Duration Every, int TimesMax)
{
    /// <summary>What opens again within this is reported as the same.</summary>
    public static readonly Duration Flapping = Duration.FromHours(6);

    /// <summary>Null for what is reported once.</summary>
    /// <param name="alert">The alert.</param>
    /// <param name="seen">Whether somebody has seen it.</param>
    /// <param name="isReminder">Whether its condition asks again though it is only a note.</param>
    public static RepeatRule? For(Alert alert, bool seen, bool isReminder) => (alert.Severity, seen) switch
    {
        (Severity.Danger, false) => new(Duration.FromMinutes(15), 96),
        (Severity.Danger, true) => new(Duration.FromHours(2), 96),
        (Severity.Urgent, false) => new(Duration.FromHours(2), 6),
        (Severity.Urgent, true) => new(Duration.FromHours(12), 6),
        (Severity.Warning, false) => new(Duration.FromHours(24), 3),
        (Severity.Note, false) when isReminder => new(Duration.FromHours(24), 3),
        _ => null,
    };
}
