using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Notices;
using Chamber.Service.Notify;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>Turns what is to be reported into notices and lets them wait to be sent.</summary>
internal sealed class NoticeDesk(NoticeSender sender, NoticeBell bell, NoticeComposer composer, TimeProvider clock)
{
    /// <summary>Tells of an alert.</summary>
    public void Put(NoticeDecision decision, AlertText text) =>
        Put(composer.Of(decision, text, Instant.FromDateTimeOffset(clock.GetUtcNow())));

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
}
