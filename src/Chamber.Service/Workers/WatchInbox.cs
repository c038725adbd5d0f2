using System.Threading.Channels;
using Chamber.Core.Climate;

namespace Chamber.Service.Workers;

/// <summary>What one commit brought that is new to the watch.</summary>
internal sealed record WatchInput(IReadOnlyList<Reading> Readings, IReadOnlyList<Refusal> Refusals);

/// <summary>Between the writer and the watch. Bounded: when the watch is behind, the writer waits, and so do the senders.</summary>
internal sealed class WatchInbox
{
    private const int BatchesMax = 256;

    private readonly Channel<WatchInput> channel =
        Channel.CreateBounded<WatchInput>(new BoundedChannelOptions(BatchesMax) { SingleReader = true });

    public ChannelReader<WatchInput> Reader => channel.Reader;

    public ValueTask PostAsync(WatchInput input, CancellationToken cancel) => channel.Writer.WriteAsync(input, cancel);
}
