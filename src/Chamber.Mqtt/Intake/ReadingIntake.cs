using System.Threading.Channels;
using Chamber.Mqtt.Decoding;
using Microsoft.Extensions.Logging;
using NodaTime;

namespace Chamber.Mqtt.Intake;

/// <summary>Stores what came out of some messages. When it returns, all of it is safe; when it throws, nothing was stored.</summary>
/// <param name="batch">Valid until the call returns.</param>
/// <param name="cancellationToken">Cancelled when the service stops.</param>
public delegate ValueTask Commit(DecodedBatch batch, CancellationToken cancellationToken);

/// <summary>
/// The one way in for messages, wherever they come from: a bounded queue, one reader that decodes and commits by batches, and
/// only then acknowledges. While the store cannot be used the senders wait, so nothing is lost and memory stays bounded; a single
/// message that it will not take is set aside as a refusal.
/// </summary>
public sealed class ReadingIntake
{
    private readonly MessageDecoder decoder;
    private readonly CommitRetry commit;
    private readonly TimeProvider time;
    private readonly IntakeOptions options;
    private readonly ILogger logger;
    private readonly Channel<Arrival> queue;
    private readonly DecodedBatch batch = new();
    private readonly List<Taken> taken = [];
    private readonly HashSet<IReceipt> waiting = [];
    private TimeSpan decodingWait;

    public ReadingIntake(MessageDecoder decoder, Commit commit, TimeProvider time, ILogger<ReadingIntake> logger,
        IntakeOptions? options = null)
    {
        this.decoder = decoder;
        this.time = time;
        this.logger = logger;
        this.options = options ?? new();
        queue = Channel.CreateBounded<Arrival>(new BoundedChannelOptions(this.options.QueueLengthMax) { SingleReader = true });
        Metrics = new(decoder, () => queue.Reader.Count);
        this.commit = new(commit, time, this.options, Metrics, logger);
    }

    /// <summary>What went through so far.</summary>
    public IntakeMetrics Metrics { get; }

    internal Instant Now => Instant.FromUnixTimeTicks(time.GetUtcNow().UtcTicks - DateTime.UnixEpoch.Ticks);

    /// <summary>Decodes, commits and acknowledges until cancelled. What is still queued then was not acknowledged and comes
    /// again.</summary>
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

                if (taken.Count > 0)
                {
                    await commit.CommitAsync(batch, taken, cancellationToken);
                    batch.Clear();
                    await AcknowledgeAsync();
                }

                if (decodingWait > TimeSpan.Zero)
                {
                    await Task.Delay(decodingWait, time, cancellationToken);
                }
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
        while (taken.Count < options.BatchLengthMax && queue.Reader.TryPeek(out var arrival) && TryDecode(arrival.Message))
        {
            queue.Reader.TryRead(out _);
            taken.Add(new(arrival, batch.Mark));
            if (arrival.Receipt is { } receipt)
            {
                waiting.Add(receipt);
            }
        }
    }

    /// <summary>False when it must be tried again: whether a probe is known may have to be asked of the store.</summary>
    private bool TryDecode(in IncomingMessage message)
    {
        var before = batch.Mark;
        try
        {
            decoder.Decode(message, batch);
            decodingWait = TimeSpan.Zero;
        }
        catch (Exception problem) when (options.Passes(problem))
        {
            batch.CutTo(before);
            decodingWait = decodingWait == TimeSpan.Zero ? options.RetryWaitMin : options.WaitAfter(decodingWait);
            Metrics.CountFailure(problem.Message);
            Log.DecodingWaits(logger, decodingWait.TotalSeconds, problem.Message);
            return false;
        }
        catch (Exception problem) when (problem is not OutOfMemoryException)
        {
            // Nothing that arrives may end the intake, not even by a fault of ours.
            batch.CutTo(before);
            batch.PutAside(message, probe: null);
            Metrics.CountPutAside();
            Log.PutAside(logger, problem, message.Topic, problem.Message, batch.Refusals[^1].Fix);
        }

        return true;
    }

    private async ValueTask AcknowledgeAsync()
    {
        var acknowledged = 0;
        foreach (var (arrival, _) in taken)
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
