using Chamber.Mqtt.Connection;
using MQTTnet.Exceptions;

namespace Chamber.Mqtt.Listening;

/// <summary>
/// Listens for a while to everything that a broker passes on, also to what no mapping knows. Nothing is taken in, and no trace is left at
/// the broker. What is held is bounded.
/// </summary>
public static class BrokerEar
{
    /// <summary>So many topics are told apart; messages on further ones are only counted.</summary>
    public const int TopicsMax = 1_000;

    /// <summary>So much of a payload is held, bytes.</summary>
    public const int PayloadMax = 16_384;

    /// <summary>Answers what was heard, or one sentence on why the broker cannot be joined.</summary>
    /// <param name="address">The broker.</param>
    /// <param name="length">For how long to listen.</param>
    /// <param name="time">The clock.</param>
    /// <param name="cancel">Ends it early; what was heard until then is told.</param>
    public static async Task<(Heard Heard, string? Fault)> ListenAsync(BrokerAddress address, TimeSpan length, TimeProvider time,
        CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(address);
        var topics = new Tally();
        using var session = new BrokerSession(address, intake: null, topics.Take);
        if (await session.ConnectAsync(cancel) is { } fault)
        {
            return (topics.Heard, fault);
        }

        try
        {
            if (await session.SubscribeAsync(["#"], cancel) is [var (_, code), ..])
            {
                return (topics.Heard, $"The broker at {address.Host}:{address.Port} lets nobody listen to everything ({code}): allow # for "
                    + $"the user \"{address.User}\".");
            }

            await Task.WhenAny(session.Lost, Task.Delay(length, time, cancel));
            await session.DisconnectAsync(CancellationToken.None);
        }
        catch (MqttCommunicationException)
        {
            // It went away; what was heard until then is told.
        }

        return (topics.Heard, null);
    }

    // Packets come on the thread of the connection, and the answer is read on another.
    private sealed class Tally
    {
        private readonly Lock gate = new();
        private readonly Dictionary<string, HeardTopic> topics = new(StringComparer.Ordinal);
        private long leftOut;

        public Heard Heard
        {
            get
            {
                lock (gate)
                {
                    return new([.. topics.Values.OrderBy(topic => topic.Topic, StringComparer.Ordinal)], leftOut);
                }
            }
        }

        public ValueTask Take(string topic, PublishPacket packet)
        {
            // What Chamber itself says is nothing to be read.
            if (OwnTopics.IsOwn(topic))
            {
                return ValueTask.CompletedTask;
            }

            lock (gate)
            {
                if (!topics.TryGetValue(topic, out var known) && topics.Count >= TopicsMax)
                {
                    leftOut++;
                    return ValueTask.CompletedTask;
                }

                var held = packet.Payload[..Math.Min(packet.Payload.Length, PayloadMax)].ToArray();
                topics[topic] = new(topic, (known?.Messages ?? 0) + 1, held, held.Length == packet.Payload.Length);
            }

            return ValueTask.CompletedTask;
        }
    }
}
