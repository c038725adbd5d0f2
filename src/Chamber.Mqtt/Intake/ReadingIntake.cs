using System.Threading.Channels;
using Chamber.Mqtt.Decoding;
using Microsoft.Extensions.Logging;
using NodaTime;

namespace Chamber.Mqtt.Intake;

/// <summary>Stores what came out of some messages. When it returns, all of it is safe; when it throws, nothing was stored.</summary>
/// <param name="batch">Valid until the call returns.</param>
/// <param name="cancellationToken">Cancelled when the service stops.</param>
public delegate ValueTask Commit(DecodedBatch batch, CancellationToken cancellationToken);

/// <summary>The bounds of an intake.</summary>
public sealed record IntakeOptions
{
    /// <summary>More messages than this wait at their sender. 16384 unless told.</summary>
    public int QueueLengthMax { get; init; } = 16_384;

    /// <summary>Messages in one commit, at most. 4096 unless told.</summary>
    public int BatchLengthMax { get; init; } = 4_096;

    /// <summary>A small batch in which nobody waits for an acknowledgement waits this long for more. 20 ms unless told; zero never waits.</summary>
    public TimeSpan Linger { get; init; } = TimeSpan.FromMilliseconds(20);

    /// <summary>The first wait after a failed commit; it doubles up to <see cref="RetryWaitMax"/>.</summary>
    public TimeSpan RetryWaitMin { get; init; } = TimeSpan.FromMilliseconds(200);

    /// <summary>The longest wait between two tries of a commit.</summary>
    public TimeSpan RetryWaitMax { get; init; } = TimeSpan.FromSeconds(30);
}

/// <summary>
/// The one way in for messages, wherever they come from: a bounded queue, one reader that decodes and commits by batches, and
/// only then acknowledges. A commit that fails is tried again with growing waits while the senders wait, so nothing is lost
/// and memory stays bounded.
/// </summary>
public sealed class ReadingIntake
{
    private readonly MessageDecoder decoder;
    private readonly Commit commit;
    private readonly TimeProvider time;
    private readonly IntakeOptions options;
    private readonly ILogger logger;
    private readonly Channel<Arrival> queue;
    private readonly DecodedBatch batch = new();
    private readonly List<Arrival> taken = [];
    private readonly HashSet<IReceipt> waiting = [];

    public ReadingIntake(MessageDecoder decoder, Commit commit, TimeProvider time, ILogger<ReadingIntake> logger, IntakeOptions? options = null)
    {
        this.decoder = decoder;
        this.commit = commit;
        this.time = time;
        this.logger = logger;
        this.options = options ?? new();
        queue = Channel.CreateBounded<Arrival>(new BoundedChannelOptions(this.options.QueueLengthMax) { SingleReader = true });
        Metrics = new(decoder, () => queue.Reader.Count);
    }

    /// <summary>What went through so far.</summary>
    public IntakeMetrics Metrics { get; }

    internal Instant Now => Instant.FromUnixTimeTicks(time.GetUtcNow().UtcTicks - DateTime.UnixEpoch.Ticks);

    /// <summary>Decodes, commits and acknowledges until cancelled. What is still queued then was not acknowledged and comes again.</summary>
    public async Task RunAsync(CancellationToken cancellationToken)
    {
        try
        {
            while (await queue.Reader.WaitToReadAsync(cancellationToken))
            {
                Take();
                if (waiting.Count == 0 && taken.Count < options.BatchLengthMax && options.Linger > TimeSpan.Zero)
                {
                    await Task.Delay(options.Linger, time, cancellationToken);
                    Take();
                }

                await CommitAsync(cancellationToken);
                await AcknowledgeAsync();
            }
        }
        catch (OperationCanceledException) when (cancellationToken.IsCancellationRequested)
        {
            // Asked to stop.
        }
    }

    /// <summary>Queues a message; waits while the queue is full.</summary>
    internal ValueTask PostAsync(in Arrival arrival, CancellationToken cancellationToken)
    {
        Metrics.CountReceived();
        return queue.Writer.TryWrite(arrival) ? ValueTask.CompletedTask : queue.Writer.WriteAsync(arrival, cancellationToken);
    }

    private void Take()
    {
        while (taken.Count < options.BatchLengthMax && queue.Reader.TryRead(out var arrival))
        {
            decoder.Decode(arrival.Message, batch);
            taken.Add(arrival);
            if (arrival.Receipt is { } receipt)
            {
                waiting.Add(receipt);
            }
        }
    }

    private async ValueTask CommitAsync(CancellationToken cancellationToken)
    {
        var wait = options.RetryWaitMin;
        while (!await TryCommitAsync(wait, cancellationToken))
        {
            await Task.Delay(wait, time, cancellationToken);
            wait = TimeSpan.FromTicks(Math.Min(2 * wait.Ticks, options.RetryWaitMax.Ticks));
        }

        Metrics.CountCommitted(batch.Messages);
        batch.Clear();
    }

    private async ValueTask<bool> TryCommitAsync(TimeSpan wait, CancellationToken cancellationToken)
    {
        try
        {
            await commit(batch, cancellationToken);
            return true;
        }
        catch (Exception exception) when (exception is not OperationCanceledException || !cancellationToken.IsCancellationRequested)
        {
            // Whatever the store threw, the messages are still at their senders: say so and try again.
            Metrics.CountFailure(exception.Message);
            Log.CommitFailed(logger, exception, batch.Messages, wait);
            return false;
        }
    }

    private async ValueTask AcknowledgeAsync()
    {
        var acknowledged = 0;
        foreach (var arrival in taken)
        {
            if (arrival.Receipt is { } receipt)
            {
                receipt.Committed(arrival.PacketId);
                acknowledged++;
            }
        }

        foreach (var receipt in waiting)
        {
            await receipt.FlushAsync();
        }

        Metrics.CountAcknowledged(acknowledged);
        taken.Clear();
        waiting.Clear();
    }
}
