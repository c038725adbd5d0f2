using System.Net.Security;
using Chamber.Mqtt.Intake;
using MQTTnet;
using MQTTnet.Adapter;
using MQTTnet.Diagnostics.Logger;
using MQTTnet.Formatter;
using MQTTnet.Implementations;
using MQTTnet.Protocol;

namespace Chamber.Mqtt.Connection;

/// <summary>
/// One connection to a broker, from connecting to its loss. Each has its own client and channel, so that an acknowledgement can
/// never reach a later connection, where the same number means another message.
/// </summary>
internal sealed class BrokerSession : IReceipt, IMqttClientAdapterFactory, IDisposable
{
    private readonly BrokerAddress address;
    private readonly ReadingIntake? intake;
    private readonly Func<string, PublishPacket, ValueTask>? heard;
    private readonly IMqttClient client;
    private readonly CancellationTokenSource closing = new();
    private readonly TaskCompletionSource<string> lost = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly TopicNames topics = new();
    private BufferedChannel? channel;
    private SslPolicyErrors certificateFaults;

    /// <param name="address">Where to connect.</param>
    /// <param name="intake">Where readings go; null for a mere check, which leaves no trace at the broker.</param>
    /// <param name="heard">Given every message, where nothing is taken in; the next is read when its task has ended.</param>
    public BrokerSession(BrokerAddress address, ReadingIntake? intake, Func<string, PublishPacket, ValueTask>? heard = null)
    {
        this.heard = heard;
        this.address = address;
        this.intake = intake;
        client = new MqttClientFactory().CreateMqttClient(this);
        client.DisconnectedAsync += arguments =>
        {
            lost.TrySetResult(arguments.Exception?.Message ?? arguments.Reason.ToString());
            return Task.CompletedTask;
        };
    }

    /// <summary>Ends, with the reason, when the connection does.</summary>
    public Task<string> Lost => lost.Task;

    /// <summary>Connects. Answers null, or one sentence on what is wrong and what to do.</summary>
    public async Task<string?> ConnectAsync(CancellationToken cancellationToken)
    {
        MqttClientOptions options;
        try
        {
            options = ClientOptions.Create(address, isPersistent: intake is not null, faults => certificateFaults = faults);
        }
        catch (Exception exception) when (ConnectionFault.ExplainFile(exception) is not null)
        {
            return ConnectionFault.ExplainFile(exception);
        }

        using var timeout = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        timeout.CancelAfter(TimeSpan.FromSeconds(address.TimeoutSeconds));
        try
        {
            var result = await client.ConnectAsync(options, timeout.Token);
            return result.ResultCode == MqttClientConnectResultCode.Success ? null : ConnectionFault.Explain(result, address);
        }
        catch (Exception exception) when (!cancellationToken.IsCancellationRequested)
        {
            // Any way in which connecting can fail has one sentence; the caller tries again.
            return timeout.IsCancellationRequested
                ? ConnectionFault.ExplainTimeout(address)
                : ConnectionFault.Explain(exception, certificateFaults, address);
        }
    }

    /// <summary>Subscribes at QoS 1, or at QoS 0 where nothing is taken in. Answers the filters that were refused, with the broker's
    /// code.</summary>
    public async Task<IReadOnlyList<(string Filter, string Code)>> SubscribeAsync(IReadOnlyList<string> filters,
        CancellationToken cancellationToken)
    {
        var options = new MqttClientSubscribeOptions
        {
            TopicFilters = [.. filters.Select(filter => new MQTTnet.Packets.MqttTopicFilter
            {
                Topic = filter,
                QualityOfServiceLevel = intake is null ? MqttQualityOfServiceLevel.AtMostOnce : MqttQualityOfServiceLevel.AtLeastOnce,
                RetainHandling = MqttRetainHandling.SendAtSubscribeIfNewSubscriptionOnly,
            })],
        };
        if (address.Version == MqttVersion.V311)
        {
            options.TopicFilters.ForEach(filter => filter.RetainHandling = MqttRetainHandling.SendAtSubscribe);
        }

        var result = await client.SubscribeAsync(options, cancellationToken);
        return [.. result.Items
            .Where(item => (int)item.ResultCode >= 0x80)
            .Select(item => (item.TopicFilter.Topic, item.ResultCode.ToString()))];
    }

    /// <summary>Publishes at QoS 1. Answers what the broker says to it; MQTT 3.1.1 knows no other answer than success.</summary>
    public async Task<MqttClientPublishReasonCode> PublishAsync(
        string topic, ReadOnlyMemory<byte> payload, bool retain, CancellationToken cancellationToken) => (await client.PublishAsync(
            new()
            {
                Topic = topic,
                Payload = new(payload),
                Retain = retain,
                QualityOfServiceLevel = MqttQualityOfServiceLevel.AtLeastOnce,
            },
            cancellationToken)).ReasonCode;

    /// <summary>Takes leave of the broker, which then keeps its last will to itself.</summary>
    public Task DisconnectAsync(CancellationToken cancellationToken) =>
        client.DisconnectAsync(new MqttClientDisconnectOptions(), cancellationToken);

    public void Committed(ushort packetId) => channel!.Acknowledge(packetId);

    public async ValueTask FlushAsync()
    {
        try
        {
            await channel!.SendAcknowledgementsAsync(closing.Token);
        }
        catch (Exception exception) when (exception is not OutOfMemoryException)
        {
            // The connection is gone. The broker sends what was not acknowledged again, and the journal drops it as a duplicate.
        }
    }

    IMqttChannelAdapter IMqttClientAdapterFactory.CreateClientAdapter(MqttClientOptions options, MqttPacketInspector packetInspector,
        IMqttNetLogger logger)
    {
        channel = new(new MqttTcpChannel(options), options.ProtocolVersion == MqttProtocolVersion.V500, TakeAsync);
        var formatter = new MqttPacketFormatterAdapter(options.ProtocolVersion,
            new MqttBufferWriter(options.WriterBufferSize, options.WriterBufferSizeMax));
        return new MqttChannelAdapter(channel, formatter, logger) { PacketInspector = packetInspector };
    }

    public void Dispose()
    {
        closing.Cancel();
        client.Dispose();
        closing.Dispose();
    }

    private ValueTask TakeAsync(PublishPacket packet)
    {
        if (intake is null)
        {
            return heard?.Invoke(topics.Of(packet.Topic.Span), packet) ?? ValueTask.CompletedTask;
        }

        return intake.PostAsync(
            new(
                new(topics.Of(packet.Topic.Span), packet.Payload, packet.Retained, intake.Now),
                packet.PacketId is null ? null : this,
                packet.PacketId ?? 0),
            closing.Token);
    }
}
