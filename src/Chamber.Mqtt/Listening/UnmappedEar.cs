using System.Globalization;
using System.Text;
using Chamber.Core;
using Chamber.Mqtt.Connection;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Intake;
using Microsoft.Extensions.Logging;
using MQTTnet.Exceptions;

namespace Chamber.Mqtt.Listening;

/// <summary>
/// Listens at a joined broker to what no mapping knows, so that each such topic leaves one trace among the refusals. The broker is
/// shared: what others say there is not kept, only the topic and the length, and no more is listened to in an hour than
/// <see cref="Bounds.UnmappedBytes"/>.
/// </summary>
/// <param name="address">The broker; the client id gets an ending of its own.</param>
/// <param name="map">What is read, and needs no trace.</param>
/// <param name="intake">Where traces go.</param>
/// <param name="isOwn">Whether Chamber itself speaks on a topic, beyond <see cref="OwnTopics"/>.</param>
/// <param name="time">The clock.</param>
/// <param name="logger">For the operator.</param>
public sealed class UnmappedEar(BrokerAddress address, TopicMap map, ReadingIntake intake, Func<string, bool> isOwn, TimeProvider time,
    ILogger<UnmappedEar> logger)
{
    private static readonly TimeSpan Hour = TimeSpan.FromHours(1);

    // The subscription of readings tells why there is no connection, and tries more often.
    private static readonly TimeSpan Pause = TimeSpan.FromMinutes(1);

    private readonly BrokerAddress address = address with { ClientId = $"{address.ClientId}-unmapped" };
    private readonly FirstHeard unmapped = new();
    private bool isRefused;

    /// <summary>Listens until cancelled, or until there is no room to tell of another topic.</summary>
    public async Task RunAsync(CancellationToken cancel)
    {
        var hour = new Budget(time);
        try
        {
            while (!unmapped.IsFull)
            {
                await ListenAsync(hour, cancel);
                await Task.Delay(hour.IsSpent ? hour.Rest : Pause, time, cancel);
            }

            await Task.Delay(Timeout.InfiniteTimeSpan, time, cancel);
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            // Asked to stop.
        }
    }

    private async Task ListenAsync(Budget hour, CancellationToken cancel)
    {
        var enough = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        using var session = new BrokerSession(address, intake: null, (topic, packet) => TakeAsync(topic, packet, hour, enough, cancel));
        if (await session.ConnectAsync(cancel) is not null)
        {
            return;
        }

        try
        {
            if (await session.SubscribeAsync(["#"], cancel) is [var (_, code), ..])
            {
                TellRefused(code);
                return;
            }

            await Task.WhenAny(session.Lost, enough.Task).WaitAsync(cancel);
            await session.DisconnectAsync(CancellationToken.None);
        }
        catch (MqttCommunicationException)
        {
            // It went away, and is joined again later.
        }
    }

    private ValueTask TakeAsync(string topic, in PublishPacket packet, Budget hour, TaskCompletionSource enough, CancellationToken cancel)
    {
        if (!hour.Spend(packet.Topic.Length + packet.Payload.Length) || unmapped.IsFull)
        {
            enough.TrySetResult();
            return ValueTask.CompletedTask;
        }

        // An empty message clears what was retained.
        if (packet.Payload.IsEmpty || topic.Length > Bounds.BrokerTopic.LengthMax || OwnTopics.IsOwn(topic) || map.Knows(topic)
            || !unmapped.IsNew(topic) || isOwn(topic))
        {
            return ValueTask.CompletedTask;
        }

        var length = packet.Payload.Length;
        var note = string.Create(CultureInfo.InvariantCulture, $"({length:#,0} {(length == 1 ? "byte" : "bytes")}, not kept)");
        return intake.PostAsync(new(new(topic, Encoding.UTF8.GetBytes(note), Retained: false, intake.Now)), cancel);
    }

    private void TellRefused(string code)
    {
        if (!isRefused)
        {
            isRefused = true;
            Log.UnmappedRefused(logger, address.Host, address.Port, code, address.User);
        }
    }

    /// <summary>What may be listened to in an hour. Spent on the thread of the connection.</summary>
    private sealed class Budget(TimeProvider time)
    {
        private long since = time.GetTimestamp();
        private long bytes;

        public bool IsSpent => bytes > Bounds.UnmappedBytes.High;

        public TimeSpan Rest => Hour - time.GetElapsedTime(since) is { Ticks: > 0 } rest ? rest : TimeSpan.Zero;

        public bool Spend(int length)
        {
            if (Rest == TimeSpan.Zero)
            {
                (since, bytes) = (time.GetTimestamp(), 0);
            }

            bytes += length;
            return !IsSpent;
        }
    }
}
