using System.Globalization;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Notices;
using Chamber.Service.Notify;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>Turns what is to be reported into notices and lets them wait to be sent.</summary>
internal sealed class NoticeDesk(NoticeSender sender, NoticeBell bell, NoticeComposer composer, TimeProvider clock)
{
    /// <summary>Tells of an alert. The name is made of what was decided, so that the same decision, taken again after a crash, is sent
    /// once.</summary>
    public void Put(NoticeDecision decision, AlertText text)
    {
        var name = string.Create(CultureInfo.InvariantCulture, $"alert-{decision.Number}-{Happened(decision)}");
        Put(composer.Of(FormOf(decision.Reason), decision.Alert, text, name, decision.Escalated,
            Instant.FromDateTimeOffset(clock.GetUtcNow())));
    }

    /// <summary>Lets a notice wait in every channel that has not had it.</summary>
    /// <returns>In how many channels it is new.</returns>
    public int Put(Notice notice)
    {
        var channels = sender.Put(notice);
        if (channels > 0)
        {
            bell.Ring();
        }

        return channels;
    }

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
}
