using System.Globalization;
using Chamber.Service.Configuration;
using Chamber.Service.Notify;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Checks;

/// <summary>Looks at who is notified of alerts: whether channels and templates can be used, and whether anything is stuck.</summary>
internal sealed class NoticeFindings(Settings settings, DataDirectory data, ChamberStore store, TimeProvider clock,
    Func<Instant, string> show)
{
    private static readonly Duration Silence = Duration.FromHours(12);

    public Finding Find()
    {
        try
        {
            NoticeComposer.For(settings, data);
            return GivenUp() ?? Stuck() ?? Near() ?? Finding.Fine("notices", Channels());
        }
        catch (BadInputException problem)
        {
            return Finding.Wrong("notices", problem.Message);
        }
    }

    private Finding? GivenUp() => store.Ledger.Notices.Dead(limit: NoticeOutbox.DeadMax) is [var last, ..] dead
        ? Finding.Note("notices", $"{dead.Count} could not be sent and were given up, the last by {last.Channel}: {last.Error}",
            "fix that channel under notices in chamber.json, then: chamber notices resend all")
        : null;

    private Finding? Stuck() => store.Ledger.Notices.NextAt() is { } next && Instant.FromDateTimeOffset(clock.GetUtcNow()) - next > Silence
        ? Finding.Note("notices", $"one waits to be sent since {show(next)}", "start the service: chamber run")
        : null;

    private Finding? Near() => settings.Notices.Webhook is { } webhook && HostName.NearTo(new(webhook.Url)) is { } near
        ? Finding.Note("notices", $"the webhook {webhook.Url} goes to {near}, where only what runs there can take it",
            "leave it so if the receiver runs there; otherwise correct notices.webhook.url")
        : null;

    // Of the configuration alone: the keys for browsers are made when they are first asked for, and a check makes nothing.
    private string Channels()
    {
        using var channels = new NoticeChannels(settings.Notices, data, store, clock, static _ => null);
        List<string> names = [.. channels.OfConfiguration().Select(channel => channel.Name)];
        if (settings.Notices.WebPush is not null)
        {
            names.Add("webPush");
        }

        return names.Count == 0 ? "no channel is set up"
            : string.Create(CultureInfo.InvariantCulture, $"{string.Join(", ", names)}; nothing is stuck");
    }
}
