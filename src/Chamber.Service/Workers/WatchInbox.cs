using System.Threading.Channels;
using Chamber.Core.Climate;

namespace Chamber.Service.Workers;

/// <summary>What one commit brought that is new to the watch.</summary>
internal sealed record WatchInput(IReadOnlyList<Reading> Readings, IReadOnlyList<Refusal> Refusals);

/// <summary>
/// Between the writer and the watch. Bounded: when the watch is behind, the writer waits, and so do the senders. While there is no watch,
/// because it has not begun or a fault has stopped it, nothing waits for it: it reads the journal when it begins, and readings go on.
/// </summary>
internal sealed class WatchInbox
{
    private const int BatchesMax = 256;

    private readonly Channel<WatchInput> channel =
        Channel.CreateBounded<WatchInput>(new BoundedChannelOptions(BatchesMax) { SingleReader = true });

    private volatile bool isOpen;

    public ChannelReader<WatchInput> Reader => channel.Reader;

    /// <summary>The watch begins to read the journal: whatever is committed from now on is handed to it.</summary>
    public void Open()
    {
        Clear();
        isOpen = true;
    }

    /// <summary>Closes it once the watch has ended, however it ended.</summary>
    public IDisposable CloseAtEnd() => new End(this);

    /// <summary>Hands over what was committed.</summary>
    public ValueTask PostAsync(WatchInput input, CancellationToken cancel) =>
        isOpen ? channel.Writer.WriteAsync(input, cancel) : ValueTask.CompletedTask;

    private void Clear()
    {
        while (channel.Reader.TryRead(out _))
        {
        }
    }

    private sealed class End(WatchInbox inbox) : IDisposable
    {
        public void Dispose()
        {
            inbox.isOpen = false;
            inbox.Clear();
        }
    }
}
