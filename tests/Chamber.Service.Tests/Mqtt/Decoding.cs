using System.Text;
using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using NodaTime;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>Short ways to put a message through a decoder.</summary>
internal static class Decoding
{
    public static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 10, 0);

    public static IncomingMessage Message(string topic, string payload, bool retained = false, Instant? receivedAt = null) =>
        new(topic, Encoding.UTF8.GetBytes(payload), retained, receivedAt ?? Now);

    public static DecodedBatch Decode(this MessageDecoder decoder, params IncomingMessage[] messages)
    {
        var batch = new DecodedBatch();
        foreach (var message in messages)
        {
            decoder.Decode(message, batch);
        }

        return batch;
    }

    public static DecodedBatch Own(string payload, bool retained = false) =>
        new MessageDecoder(TopicMap.Default).Decode(Message("chamber/shelf/reading", payload, retained));

    public static MessageDecoder With(params TopicMapping[] mappings) => new(TopicMap.Create(mappings));

    public static Refusal OneRefusal(this DecodedBatch batch) => Assert.Single(batch.Refusals);
}
