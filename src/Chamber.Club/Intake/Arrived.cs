using Chamber.Mqtt.Decoding;
using MQTTnet;
using NodaTime;

namespace Chamber.Club.Intake;

/// <summary>A message that waits to be kept, and how to say that it is.</summary>
internal sealed record Arrived(MqttApplicationMessageReceivedEventArgs Arguments, Instant At)
{
    public string Topic => Arguments.ApplicationMessage.Topic;

    /// <summary>The message with the topic as at home.</summary>
    public IncomingMessage AtHome(string topic)
    {
        var payload = Arguments.ApplicationMessage.Payload;
        var bytes = new byte[payload.Length];
        System.Buffers.BuffersExtensions.CopyTo(payload, bytes);
        return new(topic, bytes, Arguments.ApplicationMessage.Retain, At);
    }

    public Task AcknowledgeAsync(CancellationToken cancel) => Arguments.AcknowledgeAsync(cancel);
}
