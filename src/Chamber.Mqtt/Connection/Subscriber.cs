using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Intake;
using Microsoft.Extensions.Logging;
using MQTTnet.Exceptions;
using Polly;
using Polly.Retry;

namespace Chamber.Mqtt.Connection;

/// <summary>
/// Joins a broker and stays joined: a persistent session under a fixed client id, QoS 1, an acknowledgement only after the commit,
/// and after a loss new tries with growing, jittered waits. Also the way out for Chamber's own messages.
/// </summary>
public sealed class Subscriber(
    BrokerAddress address,
    TopicMap map,
    ReadingIntake intake,
    TimeProvider time,
    Random random,
    ILogger<Subscriber> logger) : IPublisher
{
    /// <summary>Waits before the next try double from this.</summary>
    private static readonly TimeSpan ShortestWait = TimeSpan.FromSeconds(0.5);

    /// <summary>Up to this; a connection that lasted as long makes the next try a quick one.</summary>
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(60);

    private volatile BrokerSession? current;
    private long connections;
    private string? fault;

    public event EventHandler? Connected;

    /// <summary>Whether a connection stands.</summary>
    public bool IsConnected => current is not null;

    /// <summary>Connections made since the start; all but the first are reconnections.</summary>
    public long Connections => Volatile.Read(ref connections);

    /// <summary>One sentence on why there is no connection; null while there is.</summary>
    public string? Fault => Volatile.Read(ref fault);

    /// <summary>Connects, receives and connects again until cancelled.</summary>
    public async Task RunAsync(CancellationToken cancellationToken)
    {
        try
        {
            var again = Again();
            while (true)
            {
                await again.ExecuteAsync(SessionAsync, cancellationToken);
                var pause = ShortestWait * (0.5 + random.NextDouble());
                Log.ConnectFailed(logger, Fault!, pause);
                await Task.Delay(pause, time, cancellationToken);
            }
        }
        catch (OperationCanceledException) when (cancellationToken.IsCancellationRequested)
        {
            // Asked to stop.
        }
    }

    /// <summary>
    /// Tries until a connection has lasted: two clients of one name would otherwise throw each other out for ever. With jitter, so that
    /// a home's clients do not all come back in one moment after a power cut.
    /// </summary>
    private ResiliencePipeline<bool> Again() => new ResiliencePipelineBuilder<bool> { TimeProvider = time }
        .AddRetry(new RetryStrategyOptions<bool>
        {
            ShouldHandle = args => ValueTask.FromResult(args.Outcome is { Exception: null, Result: false }),
            MaxRetryAttempts = int.MaxValue,
            BackoffType = DelayBackoffType.Exponential,
            Delay = ShortestWait,
            MaxDelay = LongestWait,
            UseJitter = true,
            Randomizer = random.NextDouble,
            OnRetry = args =>
            {
                Log.ConnectFailed(logger, Fault!, args.RetryDelay);
                return default;
            },
        })
        .Build();

    /// <summary>One connection from its making to its end.</summary>
    /// <returns>Whether it lasted.</returns>
    private async ValueTask<bool> SessionAsync(CancellationToken cancellationToken)
    {
        using var session = new BrokerSession(address, intake);
        var lasted = false;
        var sentence = await ConnectAsync(session, cancellationToken);
        if (sentence is null)
        {
            (sentence, lasted) = await StayAsync(session, cancellationToken);
        }

        Volatile.Write(ref fault, sentence);
        return lasted;
    }

    public async ValueTask<bool> PublishAsync(string topic, ReadOnlyMemory<byte> payload, bool retain, CancellationToken cancellationToken)
    {
        if (current is not { } session)
        {
            return false;
        }

        try
        {
            await session.PublishAsync(topic, payload, retain, cancellationToken);
            return true;
        }
        catch (Exception exception) when (exception is MqttCommunicationException or ObjectDisposedException)
        {
            return false;
        }
    }

    private async Task<string?> ConnectAsync(BrokerSession session, CancellationToken cancellationToken)
    {
        var sentence = await session.ConnectAsync(cancellationToken);
        if (sentence is not null)
        {
            return sentence;
        }

        try
        {
            sentence = await SubscribeAsync(session, cancellationToken);
            await session.PublishAsync(OwnTopics.State, OwnTopics.Online, retain: true, cancellationToken);
        }
        catch (MqttCommunicationException exception)
        {
            return $"The broker at {address.Host}:{address.Port} closed the connection while subscribing ({exception.Message}): "
                + $"look at its log.";
        }

        return sentence;
    }

    private async Task<string?> SubscribeAsync(BrokerSession session, CancellationToken cancellationToken)
    {
        string? sentence = null;
        foreach (var (filter, code) in await session.SubscribeAsync(map.Filters, cancellationToken))
        {
            Log.SubscriptionRefused(logger, filter, code, address.User);
            sentence = $"The broker at {address.Host}:{address.Port} refused the subscription to {filter} ({code}): allow it for the "
                + $"user \"{address.User}\".";
        }

        return sentence;
    }

    // A connection that is lost meanwhile subscribes to everything when it comes back.
    private async Task SubscribeAgainAsync(BrokerSession session, CancellationToken cancellationToken)
    {
        try
        {
            await SubscribeAsync(session, cancellationToken);
        }
        catch (Exception exception) when (exception is MqttCommunicationException or OperationCanceledException or ObjectDisposedException)
        {
            Log.ConnectionLost(logger, address.Host, address.Port, exception.Message);
        }
    }

    private async Task<(string Lost, bool Lasted)> StayAsync(BrokerSession session, CancellationToken cancellationToken)
    {
        Log.Connected(logger, address.Host, address.Port, address.ClientId);
        Volatile.Write(ref fault, null);
        Interlocked.Increment(ref connections);
        current = session;
        var since = time.GetTimestamp();
        void Subscribe() => _ = SubscribeAgainAsync(session, cancellationToken);
        map.Changed += Subscribe;
        try
        {
            Connected?.Invoke(this, EventArgs.Empty);
            var reason = await session.Lost.WaitAsync(cancellationToken);
            return ($"The connection to the broker at {address.Host}:{address.Port} was lost ({reason}).",
                time.GetElapsedTime(since) >= LongestWait);
        }
        finally
        {
            current = null;
            map.Changed -= Subscribe;
            if (cancellationToken.IsCancellationRequested)
            {
                await TakeLeaveAsync(session);
            }
        }
    }

    private async Task TakeLeaveAsync(BrokerSession session)
    {
        using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(2), time);
        try
        {
            await session.PublishAsync(OwnTopics.State, OwnTopics.Offline, retain: true, limit.Token);
            await session.DisconnectAsync(limit.Token);
        }
        catch (Exception exception) when (exception is MqttCommunicationException or OperationCanceledException or ObjectDisposedException)
        {
            // The broker is gone, or slow: its copy of the last will says the same.
        }
    }
}
