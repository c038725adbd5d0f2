using System.Text.Json;
using Chamber.Storage;
using NodaTime;
using NodaTime.Extensions;

namespace Chamber.Service.Notify;

/// <summary>
/// Puts notices into the ledger's outbox, one for each channel, and sends what is due: a notice that was put there is delivered,
/// or stands in the list of dead ones with the reason. Waits grow from a minute to six hours; after
/// <see cref="AttemptsMax"/> tries (about two days) it is given up.
/// </summary>
internal sealed class NoticeSender(NoticeOutbox outbox, IReadOnlyList<INoticeChannel> channels, TimeProvider time)
{
    public const int AttemptsMax = 14;

    private static readonly Duration FirstWait = Duration.FromMinutes(1);
    private static readonly Duration LongestWait = Duration.FromHours(6);

    private readonly Dictionary<string, INoticeChannel> byName = channels.ToDictionary(channel => channel.Name, StringComparer.Ordinal);

    /// <summary>Whether anybody would be told.</summary>
    public bool HasChannels => byName.Count > 0;

    /// <summary>Lets a notice wait in every channel. When this returns it is in the ledger.</summary>
    public void Put(Notice notice)
    {
        var payload = JsonSerializer.Serialize(NoticePayload.From(notice));
        foreach (var name in byName.Keys)
        {
            outbox.Add(name, payload, Now);
        }
    }

    /// <summary>Sends what is due, oldest first. One channel that is away does not hold up the others.</summary>
    /// <returns>When the next one is due, or null when none waits.</returns>
    public async Task<Instant?> SendDueAsync(CancellationToken cancellationToken)
    {
        var away = new HashSet<string>(StringComparer.Ordinal);
        foreach (var queued in outbox.Due(Now))
        {
            if (!away.Contains(queued.Channel) && !await SendAsync(queued, cancellationToken))
            {
                away.Add(queued.Channel);
            }
        }

        return outbox.NextAt();
    }

    /// <summary>How long to wait before the next try after so many.</summary>
    internal static Duration WaitAfter(int attempts) =>
        Duration.Min(LongestWait, FirstWait * (1L << Math.Min(attempts, 20)));

    private Instant Now => time.GetUtcNow().ToInstant();

    /// <returns>Whether the channel may be tried with the next notice.</returns>
    private async Task<bool> SendAsync(QueuedNotice queued, CancellationToken cancellationToken)
    {
        if (!byName.TryGetValue(queued.Channel, out var channel))
        {
            outbox.Failed(queued.Number, $"The channel {queued.Channel} is no longer set up.", nextAt: null);
            return true;
        }

        var notice = JsonSerializer.Deserialize<NoticePayload>(queued.Payload)!.ToNotice();
        var delivery = await channel.SendAsync(notice, cancellationToken);
        switch (delivery.Outcome)
        {
            case DeliveryOutcome.Delivered:
                outbox.Sent(queued.Number);
                return true;
            case DeliveryOutcome.TryLater when queued.Attempts + 1 < AttemptsMax:
                outbox.Failed(queued.Number, delivery.Reason, Now + (delivery.RetryAfter?.ToDuration() ?? WaitAfter(queued.Attempts)));
                return false;
            default:
                outbox.Failed(queued.Number, delivery.Reason, nextAt: null);
                return delivery.Outcome == DeliveryOutcome.Refused;
        }
    }

    /// <summary>A notice as it waits in the ledger.</summary>
    private sealed record NoticePayload(string Id, DateTimeOffset At, string Kind, string? Subject, NoticeUrgency Urgency, string Title, string Body, byte[]? PicturePng)
    {
        public static NoticePayload From(Notice notice) => new(
            notice.Id, notice.At.ToDateTimeOffset(), notice.Kind, notice.Subject, notice.Urgency, notice.Title, notice.Body, notice.PicturePng);

        public Notice ToNotice() => new(Id, At.ToInstant(), Kind, Subject, Urgency, Title, Body) { PicturePng = PicturePng };
    }
}
