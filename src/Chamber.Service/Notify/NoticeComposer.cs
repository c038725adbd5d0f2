using System.Globalization;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Notices;
using Chamber.Core.Cautions;
using Chamber.Core.Digests;
using Chamber.Service.Configuration;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Notify;

/// <summary>Makes notices of what there is to tell, in the words of the templates, in the home's time and unit.</summary>
/// <param name="templates">The words.</param>
/// <param name="pageLink">Where the page is now for those who read them, or null.</param>
/// <param name="zone">The home's zone.</param>
internal sealed class NoticeComposer(NoticeTemplates templates, Func<string?> pageLink, DateTimeZone zone)
{
    /// <summary>With the templates of a home.</summary>
    /// <exception cref="BadInputException">A template cannot be used.</exception>
    public static NoticeComposer For(Settings settings, DataDirectory data, Func<string?>? pageLink = null) =>
        new(NoticeTemplates.Load(data), pageLink ?? (() => settings.Notices.PageLink), settings.Zone);

    /// <summary>What was decided about an alert. The name is made of that, so that the same decision, taken again after a crash, is sent
    /// once.</summary>
    public Notice Of(NoticeDecision decision, AlertText text, Instant now) => Of(FormOf(decision.Reason), decision.Alert, text,
        string.Create(CultureInfo.InvariantCulture, $"alert-{decision.Number}-{Happened(decision)}"), decision.Escalated, now);

    /// <summary>An alert. The name is made of what happened, so that the same event, reported again after a crash, is sent once.</summary>
    /// <param name="form">What happened to it.</param>
    /// <param name="alert">The alert.</param>
    /// <param name="text">The alert in words.</param>
    /// <param name="name">What tells this notice from others.</param>
    /// <param name="unseen">Nobody has said that they saw it, though they were notified.</param>
    /// <param name="now">When it is reported.</param>
    public Notice Of(NoticeForm form, Alert alert, AlertText text, string name, bool unseen, Instant now)
    {
        var (title, body) = templates.Fill(form, new Dictionary<string, string>
        {
            ["title"] = text.Title,
            ["what"] = text.What,
            ["harm"] = text.Harm,
            ["to-do"] = text.ToDo,
            ["caution"] = text.Caution,
            ["caution-line"] = $"{text.CautionLine} {CautionText.More([.. text.Cautions])}".Trim(),
            ["subject"] = alert.Subject.Name,
            ["severity"] = Choice.Words(alert.Severity),
            ["since"] = TimeText.Show(alert.Since, zone, now),
            ["unseen"] = unseen ? "Nobody has marked it as seen yet." : "",
        });
        return new(name, now, KindOf(form), alert.Subject.Name, UrgencyOf(form, alert.Severity), title, body)
        {
            IsUnseen = unseen,
            PlotSpot = alert.Subject.Kind == SubjectKind.Spot ? alert.Subject.Name : null,
            Link = pageLink(),
        };
    }

    /// <summary>The digest of a day; its name is the day's, so that it is sent once.</summary>
    public Notice Of(DigestText text, LocalDate day, Instant now)
    {
        var (title, body) = templates.Fill(NoticeForm.Digest, new Dictionary<string, string>
        {
            ["title"] = text.Title,
            ["to-do"] = text.ToDo,
            ["coming"] = text.Coming,
            ["up"] = text.Up,
            ["spots"] = text.Spots,
            ["alerts"] = text.Alerts,
            ["not-watched"] = text.NotWatched,
        });
        return new(DigestName(day), now, "digest", null, NoticeUrgency.Routine, title, body) { Link = pageLink() };
    }

    /// <summary>What was missed while nobody watched.</summary>
    /// <param name="away">When nobody watched.</param>
    /// <param name="reached">What is known of the spots then.</param>
    /// <param name="silentSpots">Of how many nothing is known.</param>
    /// <param name="time">Which time it is reported: from the second on, more of it is known.</param>
    /// <param name="scale">The unit of temperatures.</param>
    /// <param name="now">When it is reported.</param>
    public Notice NotWatched(Interval away, IReadOnlyList<SpotReach> reached, int silentSpots, int time,
        TemperatureScale scale, Instant now)
    {
        var (title, body) = templates.Fill(NoticeForm.NotWatched, new Dictionary<string, string>
        {
            ["title"] = time > 1 ? Absence.LaterTitle(away, zone) : Absence.Title(away, zone),
            ["spots"] = Absence.Body(reached, silentSpots, scale),
        });
        var name = $"not-watched-{InstantPattern.General.Format(away.Start)}{(time > 1 ? string.Create(CultureInfo.InvariantCulture, $"-{time}") : "")}";
        return new(name, now, "not-watched", null, NoticeUrgency.Soon, title, body) { Link = pageLink() };
    }

    /// <summary>The data file cannot be written, or is damaged.</summary>
    /// <param name="trouble">What is the matter, with the fix.</param>
    /// <param name="since">Since when; the notice's name is made of it.</param>
    /// <param name="now">When it is reported.</param>
    public Notice CannotStore(HomeTrouble trouble, Instant since, Instant now)
    {
        var (title, body) = templates.Fill(
            NoticeForm.CannotStore, new Dictionary<string, string> { ["title"] = trouble.Title, ["trouble"] = trouble.What,
                ["since"] = TimeText.Show(since, zone, now) });
        return new($"cannot-store-{InstantPattern.General.Format(since)}", now, "cannot-store", null, NoticeUrgency.Soon, title,
            body) { Link = pageLink() };
    }

    /// <summary>A notice that proves a channel.</summary>
    public Notice Test(string channel, Instant now)
    {
        var (title, body) = templates.Fill(NoticeForm.Test,
            new Dictionary<string, string> { ["channel"] = channel, ["time"] = TimeText.Show(now, zone, now) });
        return new($"test-{InstantPattern.ExtendedIso.Format(now)}", now, "test", null, NoticeUrgency.Routine, title,
            body) { Link = pageLink() };
    }

    public static string DigestName(LocalDate day) => $"digest-{LocalDatePattern.Iso.Format(day)}";

    private static NoticeForm FormOf(NoticeReason reason) => reason switch
    {
        NoticeReason.Opened => NoticeForm.AlertOpened,
        NoticeReason.Worse => NoticeForm.AlertWorse,
        NoticeReason.Again => NoticeForm.AlertAgain,
        NoticeReason.Missed => NoticeForm.AlertMissed,
        _ => NoticeForm.AlertOver,
    };

    private static string Happened(NoticeDecision decision)
    {
        var severity = decision.Alert.Severity.ToString().ToLowerInvariant();
        return decision.Reason switch
        {
            NoticeReason.Worse => $"worse-{severity}",
            NoticeReason.Again => string.Create(CultureInfo.InvariantCulture, $"again-{severity}-{decision.Notified.Times}"),
            var reason => reason.ToString().ToLowerInvariant(),
        };
    }

    private static string KindOf(NoticeForm form) => Choice.Word(form).Replace('-', '.');

    private static NoticeUrgency UrgencyOf(NoticeForm form, Severity severity) => severity switch
    {
        _ when form is NoticeForm.AlertOver or NoticeForm.AlertMissed => NoticeUrgency.Routine,
        Severity.Note => NoticeUrgency.Routine,
        Severity.Danger => NoticeUrgency.Hazard,
        _ => NoticeUrgency.Soon,
    };
}
