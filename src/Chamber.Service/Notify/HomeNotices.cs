using System.Text.Json;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Notify;

/// <summary>A notice that waits or was given up.</summary>
/// <param name="Number">Its number, for sending again or dropping.</param>
/// <param name="Channel">By which way.</param>
/// <param name="Kind">What it is about: <c>alert.opened</c>.</param>
/// <param name="Title">Its title.</param>
/// <param name="CreatedAt">Since when it waits.</param>
/// <param name="Attempts">How often it was tried.</param>
/// <param name="NextAt">When it is tried next; null when it was given up.</param>
/// <param name="Reason">What the last try came to, or null.</param>
internal sealed record NoticeState(long Number, string Channel, string Kind, string Title, Instant CreatedAt, int Attempts, Instant? NextAt,
    string? Reason);

/// <summary>A channel that is set up.</summary>
/// <param name="Channel">Its name.</param>
/// <param name="LastSentAt">When it last took a notice; null when never.</param>
internal sealed record ChannelState(string Channel, Instant? LastSentAt);

/// <summary>How notices fare: the channels, what waits, and what was given up.</summary>
internal sealed record HomeNotices(IReadOnlyList<ChannelState> Channels, IReadOnlyList<NoticeState> Waiting,
    IReadOnlyList<NoticeState> GivenUp)
{
    /// <summary>Reads it from the ledger.</summary>
    public static HomeNotices Read(ChamberStore store, NoticeChannels channels)
    {
        var sent = store.Ledger.Notices.LastSent();
        return new(
            [.. channels.All().Select(channel => new ChannelState(channel.Name, sent.TryGetValue(channel.Name, out var at) ? at : null))],
            [.. store.Ledger.Notices.Waiting().Select(Of)],
            [.. store.Ledger.Notices.Dead().Select(Of)]);
    }

    private static NoticeState Of(QueuedNotice queued)
    {
        var notice = JsonSerializer.Deserialize<NoticePayload>(queued.Payload)!;
        return new(queued.Number, queued.Channel, notice.Kind, notice.Title, queued.CreatedAt, queued.Attempts,
            queued.NextAt, queued.Error);
    }
}
