using NodaTime;

namespace Chamber.Service.Notify;

/// <summary>Whether a channel works now.</summary>
/// <param name="Channel">Its name.</param>
/// <param name="Good">Whether the peer took the test.</param>
/// <param name="Reason">What failed and the fix; empty when good.</param>
internal sealed record ChannelProof(string Channel, bool Good, string Reason)
{
    /// <summary>The channels to be tried: all, or those of a name; <c>webPush</c> names every browser.</summary>
    /// <exception cref="BadInputException">None is set up, or none with this name.</exception>
    public static IReadOnlyList<INoticeChannel> Choose(IReadOnlyList<INoticeChannel> all, string? asked)
    {
        if (all.Count == 0)
        {
            throw BadInputException.Contradicts("No channel is set up: set up e-mail, a webhook or Web Push on the page, or under "
                + "\"notices\" in chamber.json (docs/notices.md); a browser must also have asked for notices, on the page.");
        }

        var chosen = all.Where(channel => asked is null || channel.Name == asked
            || channel.Name.StartsWith(asked + "-", StringComparison.Ordinal)).ToList();
        return chosen.Count > 0 ? chosen : throw BadInputException.Unknown(
            $"There is no channel \"{asked}\"; there are {string.Join(", ", all.Select(channel => channel.Name))}.");
    }

    /// <summary>Sends one notice; a fault in the channel is an answer like any other.</summary>
    public static async Task<Delivery> SendAsync(INoticeChannel channel, Notice notice, CancellationToken cancel)
    {
        try
        {
            return await channel.SendAsync(notice, cancel);
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            throw;
        }
#pragma warning disable CA1031 // Whatever a channel throws, the others are tried.
        catch (Exception problem)
#pragma warning restore CA1031
        {
            return Delivery.Never($"A fault in sending: {problem.Message}");
        }
    }

    /// <summary>Sends a test through each, past the outbox, so that the answer is that of now.</summary>
    public static async Task<IReadOnlyList<ChannelProof>> TryAsync(IReadOnlyList<INoticeChannel> channels, NoticeComposer composer,
        Instant now, CancellationToken cancel) =>
        await Task.WhenAll(channels.Select(async channel =>
        {
            var delivery = await SendAsync(channel, composer.Test(channel.Name, now), cancel);
            return new ChannelProof(channel.Name, delivery.Outcome == DeliveryOutcome.Delivered, delivery.Reason);
        }));
}
