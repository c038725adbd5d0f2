using NodaTime;

namespace Chamber.Service.Notify;

/// <summary>Whether a channel works now.</summary>
/// <param name="Channel">Its name.</param>
/// <param name="Good">Whether the peer took the test.</param>
/// <param name="Reason">What failed and the mend; empty when good.</param>
internal sealed record ChannelProof(string Channel, bool Good, string Reason)
{
    /// <summary>Sends a test through each, past the outbox, so that the answer is that of now.</summary>
    public static async Task<IReadOnlyList<ChannelProof>> TryAsync(IReadOnlyList<INoticeChannel> channels, NoticeComposer composer, Instant now, CancellationToken cancel) =>
        await Task.WhenAll(channels.Select(async channel =>
        {
            var delivery = await channel.SendAsync(composer.Test(channel.Name, now), cancel);
            return new ChannelProof(channel.Name, delivery.Outcome == DeliveryOutcome.Delivered, delivery.Reason);
        }));
}
