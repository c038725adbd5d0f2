using System.Collections.Concurrent;
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
/// <param name="outbox">Where notices wait.</param>
/// <param name="channels">The channels of now; browsers come and go.</param>
/// <param name="time">The clock.</param>
/// <param name="jitter">Spreads the tries, so that many notices that failed together do not all come back together.</param>
/// <param name="logger">Hears of what fails.</param>
internal sealed class NoticeSender(NoticeOutbox outbox, Func<IReadOnlyList<INoticeChannel>> channels, TimeProvider time, Random jitter,
    ILogger<NoticeSender> logger)
{
    public const int AttemptsMax = 14;

    private const double JitterShare = 0.25;

    /// <summary>A peer may ask for a longer wait than this, and is asked again all the same. With all of the jitter it is as long as the
    /// outbox lets a notice wait.</summary>
    private static readonly Duration LongestWait = NoticeOutbox.WaitMax / (1 + JitterShare);
    private static readonly Duration FirstWait = Duration.FromMinutes(1);

    // Taken by the peer while the ledger could not be written: to be noted there, and not to be sent again.
    private readonly ConcurrentDictionary<long, bool> delivered = new();

    // Channels that are sending now.
    private readonly ConcurrentDictionary<string, bool> busy = new(StringComparer.Ordinal);

    private Instant Now => time.GetUtcNow().ToInstant();

    /// <summary>Lets a notice wait in every channel, where it does not yet. When this returns it is in the ledger.</summary>
    /// <returns>In how many channels it is new.</returns>
    public int Put(Notice notice)
    {
        var payload = JsonSerializer.Serialize(NoticePayload.From(notice));
        return channels().Where(channel => !channel.OnlyWhenUnseen || notice.IsUnseen || notice.Urgency == NoticeUrgency.Hazard)
            .Count(channel => outbox.Add(channel.Name, notice.Id, payload, Now));
    }

    /// <summary>Sends what is due, oldest first, and waits for every channel.</summary>
    /// <returns>When the next one is due, or null when none waits.</returns>
    public async Task<Instant?> SendDueAsync(CancellationToken cancellationToken)
    {
        await Task.WhenAll(StartDue(cancellationToken));
        return NextAt();
    }

    /// <summary>Lets each channel send what is due in it, oldest first. A channel that is still sending is left alone, and holds up no
    /// other: a peer that hangs is waited for by its own channel only.</summary>
    /// <returns>The channels that have begun.</returns>
    public IReadOnlyList<Task> StartDue(CancellationToken cancellationToken)
    {
        var known = channels().ToDictionary(channel => channel.Name, StringComparer.Ordinal);
        return [.. outbox.Due(Now).ToLookup(queued => queued.Channel, StringComparer.Ordinal)
            .Where(own => busy.TryAdd(own.Key, true))
            .Select(own => SendAsync(known.GetValueOrDefault(own.Key), own.Key, own, cancellationToken))];
    }

    /// <summary>When the next one is due in a channel that is not sending; null when none is.</summary>
    public Instant? NextAt() =>
        outbox.NextByChannel().Where(next => !busy.ContainsKey(next.Key)).Select(next => (Instant?)next.Value).Min();

    /// <summary>How long to wait before the next try after so many, without what the peer asks for.</summary>
    /// <param name="attempts">Tries so far, 0 or more.</param>
    /// <param name="part">Where in the spread, 0 to 1.</param>
    internal static Duration WaitAfter(int attempts, double part) =>
        Duration.Min(LongestWait, FirstWait * (1L << Math.Min(attempts, 20))) * (1 + (JitterShare * part));

    private async Task SendAsync(INoticeChannel? channel, string name, IEnumerable<QueuedNotice> waiting,
        CancellationToken cancellationToken)
    {
        try
        {
            await SendAsync(channel, waiting, cancellationToken);
        }
        finally
        {
            busy.TryRemove(name, out _);
        }
    }

    private async Task SendAsync(INoticeChannel? channel, IEnumerable<QueuedNotice> waiting, CancellationToken cancellationToken)
    {
        foreach (var queued in waiting)
        {
            if (channel is null)
            {
                outbox.Failed(queued.Number, $"The channel {queued.Channel} is no longer set up.", nextAt: null);
            }
            else if (delivered.ContainsKey(queued.Number))
            {
                NoteDelivered(queued);
            }
            else if (!await SendAsync(channel, queued, cancellationToken))
            {
                return;
            }
        }
    }

    /// <returns>Whether the channel may be tried with the next notice.</returns>
    private async Task<bool> SendAsync(INoticeChannel channel, QueuedNotice queued, CancellationToken cancellationToken)
    {
        using var span = Signals.Spans.StartActivity("notice")?.SetTag("channel", channel.Name);
        var (delivery, isFault) = await TryAsync(channel, queued, cancellationToken);
        span?.SetTag("outcome", delivery.Outcome.ToString());
        if (Signals.Notices.Enabled)
        {
            Signals.Notices.Add(1, new("channel", channel.Name),
                new KeyValuePair<string, object?>("outcome", Choice.Word(delivery.Outcome)));
        }

        switch (delivery.Outcome)
        {
            case DeliveryOutcome.Delivered:
                delivered[queued.Number] = true;
                NoteDelivered(queued);
                return true;
            case DeliveryOutcome.TryLater when queued.Attempts + 1 < AttemptsMax:
                outbox.Failed(queued.Number, delivery.Reason, Now + Wait(queued, delivery.RetryAfter));
                Log.NoticeLater(logger, queued.Channel, delivery.Reason);

                // A fault may lie in this one notice, and must not hold up those behind it.
                return isFault;
            default:
                outbox.Failed(queued.Number, delivery.Reason, nextAt: null);
                Log.NoticeDead(logger, queued.Channel, delivery.Reason);
                return delivery.Outcome == DeliveryOutcome.Refused;
        }
    }

    /// <summary>The fence of a channel: a fault in it, or in a notice that cannot be read any more, is a try that failed.</summary>
    private async Task<(Delivery Delivery, bool IsFault)> TryAsync(INoticeChannel channel, QueuedNotice queued,
        CancellationToken cancellationToken)
    {
        try
        {
            return (await channel.SendAsync(JsonSerializer.Deserialize<NoticePayload>(queued.Payload)!.ToNotice(), cancellationToken),
                false);
        }
        catch (OperationCanceledException) when (cancellationToken.IsCancellationRequested)
        {
            throw;
        }
#pragma warning disable CA1031 // Whatever a channel throws, the other channels and notices go on.
        catch (Exception problem)
#pragma warning restore CA1031
        {
            Log.NoticeFaulted(logger, problem, queued.Channel, problem.Message);
            return (Delivery.Later($"A fault in sending: {problem.Message}"), true);
        }
    }

    private void NoteDelivered(QueuedNotice queued)
    {
        outbox.Sent(queued.Number, Now);
        delivered.TryRemove(queued.Number, out _);
        Log.NoticeSent(logger, queued.Channel);
    }

    // Never sooner than the peer asks, within reason.
    private Duration Wait(QueuedNotice queued, TimeSpan? asked)
    {
        double part;
        lock (jitter)
        {
            part = jitter.NextDouble();
        }

        var own = WaitAfter(queued.Attempts, part);
        return asked is { } wish && wish > TimeSpan.Zero ? Duration.Min(LongestWait, Duration.Max(own, wish.ToDuration())) : own;
    }
}

/// <summary>A notice as it waits in the ledger.</summary>
internal sealed record NoticePayload(string Id, DateTimeOffset At, string Kind, string? Subject, NoticeUrgency Urgency, string Title,
    string Body, string? PlotSpot, string? Link)
{
    public static NoticePayload From(Notice notice) => new(
        notice.Id, notice.At.ToDateTimeOffset(), notice.Kind, notice.Subject, notice.Urgency, notice.Title, notice.Body,
            notice.PlotSpot, notice.Link);

    public Notice ToNotice() => new(Id, At.ToInstant(), Kind, Subject, Urgency, Title, Body) { PlotSpot = PlotSpot, Link = Link };
}
