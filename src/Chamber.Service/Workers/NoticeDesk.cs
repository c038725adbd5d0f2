using System.Globalization;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Notices;
using Chamber.Service.Notify;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>Turns what happened to an alert into a notice and lets it wait to be sent. Belongs to the thread of the watch.</summary>
internal sealed class NoticeDesk(NoticeSender sender, NoticeWorker worker, NoticeOptions options, TimeProvider clock)
{
    /// <summary>Lets a notice wait in every channel. Its name is made of what was decided, so that the same decision, taken again after a crash, is sent once.</summary>
    public void Put(NoticeDecision decision, AlertText text)
    {
        var alert = decision.Alert;
        var happened = Happened(decision);
        var notice = new Notice(
            string.Create(CultureInfo.InvariantCulture, $"alert-{decision.Number}-{happened}"),
            Instant.FromDateTimeOffset(clock.GetUtcNow()),
            $"alert.{happened.Split('-')[0]}",
            alert.Subject.Name,
            alert.IsOpen ? UrgencyOf(alert.Severity) : NoticeUrgency.Routine,
            decision.Reason switch
            {
                NoticeReason.Worse => $"Worse: {text.Title}",
                NoticeReason.Again => $"Still: {text.Title}",
                NoticeReason.Over => $"Over: {text.Title}",
                _ => text.Title,
            },
            string.Join('\n', new[] { text.What, text.Harm, text.ToDo, text.Caution }.Where(part => part.Length > 0)))
        {
            PlotSpot = alert.Subject.Kind == SubjectKind.Spot ? alert.Subject.Name : null,
            Link = options.PageLink,
        };
        if (sender.Put(notice) > 0)
        {
            worker.Wake();
        }
    }

    private static string Happened(NoticeDecision decision)
    {
        var severity = decision.Alert.Severity.ToString().ToLowerInvariant();
        return decision.Reason switch
        {
            NoticeReason.Worse => $"worse-{severity}",
            NoticeReason.Again => string.Create(CultureInfo.InvariantCulture, $"again-{severity}-{decision.Told.Times}"),
            NoticeReason.Over => "closed",
            var reason => reason.ToString().ToLowerInvariant(),
        };
    }

    private static NoticeUrgency UrgencyOf(Severity severity) => severity switch
    {
        Severity.Note => NoticeUrgency.Routine,
        Severity.Danger => NoticeUrgency.Hazard,
        _ => NoticeUrgency.Soon,
    };
}
