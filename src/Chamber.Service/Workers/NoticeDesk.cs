using Chamber.Core.Alerts;
using Chamber.Service.Notify;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>Turns what happened to an alert into a notice and lets it wait to be sent. Belongs to the thread of the watch.</summary>
internal sealed class NoticeDesk(NoticeSender sender, NoticeWorker worker, NoticeOptions options, TimeProvider clock)
{
    public void Opened(Alert alert, long number, AlertText text) => Put(alert, number, text, "opened", text.Title);

    public void Worsened(Alert alert, long number, AlertText text) => Put(alert, number, text, $"worse-{alert.Severity.ToString().ToLowerInvariant()}", $"Worse: {text.Title}");

    public void Closed(Alert alert, long number, AlertText text) => Put(alert, number, text, "closed", $"Over: {text.Title}");

    // The name is made of what happened, so that the same happening, told again after a crash, is sent once.
    private void Put(Alert alert, long number, AlertText text, string happened, string title)
    {
        var notice = new Notice(
            $"alert-{number}-{happened}",
            Instant.FromDateTimeOffset(clock.GetUtcNow()),
            $"alert.{happened.Split('-')[0]}",
            alert.Subject.Name,
            alert.IsOpen ? UrgencyOf(alert.Severity) : NoticeUrgency.Routine,
            title,
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

    private static NoticeUrgency UrgencyOf(Severity severity) => severity switch
    {
        Severity.Note => NoticeUrgency.Routine,
        Severity.Danger => NoticeUrgency.Hazard,
        _ => NoticeUrgency.Soon,
    };
}
