using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;

namespace Chamber.Mqtt.Intake;

/// <summary>What went through an intake since the start. Each number can be read at any time from any thread.</summary>
public sealed class IntakeMetrics
{
    private readonly MessageDecoder decoder;
    private readonly Func<int> queueLength;
    private long received;
    private long committed;
    private long acknowledged;
    private long batches;
    private long commitFailures;
    private string? lastFailure;

    internal IntakeMetrics(MessageDecoder decoder, Func<int> queueLength)
    {
        this.decoder = decoder;
        this.queueLength = queueLength;
    }

    /// <summary>Messages that arrived.</summary>
    public long Received => Volatile.Read(ref received);

    /// <summary>Messages whose readings and refusals are stored.</summary>
    public long Committed => Volatile.Read(ref committed);

    /// <summary>Messages acknowledged to their sender after the commit; QoS 0 is never acknowledged.</summary>
    public long Acknowledged => Volatile.Read(ref acknowledged);

    /// <summary>Commits that went well.</summary>
    public long Batches => Volatile.Read(ref batches);

    /// <summary>Commits that failed and were tried again.</summary>
    public long CommitFailures => Volatile.Read(ref commitFailures);

    /// <summary>What the last failed commit said, with the fix; null again once a commit went well.</summary>
    public string? LastFailure => Volatile.Read(ref lastFailure);

    /// <summary>Readings that came out of the messages.</summary>
    public long Readings => decoder.Readings;

    /// <summary>Refusals by reason.</summary>
    public IReadOnlyDictionary<RefusalReason, long> Refused => decoder.Refused;

    /// <summary>Messages that wait to be decoded.</summary>
    public int QueueLength => queueLength();

    internal void CountReceived() => Interlocked.Increment(ref received);

    internal void CountCommitted(int messages)
    {
        Interlocked.Add(ref committed, messages);
        Interlocked.Increment(ref batches);
        Volatile.Write(ref lastFailure, null);
    }

    internal void CountPutAside() => decoder.CountPutAside();

    internal void CountAcknowledged(int messages) => Interlocked.Add(ref acknowledged, messages);

    internal void CountFailure(string message)
    {
        Interlocked.Increment(ref commitFailures);
        Volatile.Write(ref lastFailure, message);
    }
}
