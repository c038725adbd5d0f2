using System.Buffers.Binary;
using MQTTnet.Exceptions;

namespace Chamber.Mqtt.Connection;

/// <summary>A PUBLISH as it came (MQTT 3.1.1 and 5.0, section 3.3), with slices of the buffer for topic and payload.</summary>
/// <param name="Topic">UTF-8.</param>
/// <param name="Payload">Anything.</param>
/// <param name="Retained">The broker replayed it.</param>
/// <param name="PacketId">To be acknowledged by; null at QoS 0.</param>
internal readonly record struct PublishPacket(ReadOnlyMemory<byte> Topic, ReadOnlyMemory<byte> Payload, bool Retained, ushort? PacketId)
{
    private const byte Kind = 0x30;
    private const int LengthBytesMax = 4;

    /// <summary>
    /// Reads the fixed header at the start of some bytes: how long it is and how long the rest (section 2.2). False when more bytes
    /// are needed to tell.
    /// </summary>
    /// <exception cref="MqttProtocolViolationException">The length is none.</exception>
    public static bool TryMeasure(ReadOnlySpan<byte> bytes, out bool isPublish, out int headerLength, out int length)
    {
        isPublish = bytes.Length > 0 && (bytes[0] & 0xF0) == Kind;
        headerLength = 1;
        return TryNumber(bytes, ref headerLength, out length);
    }

    /// <summary>Takes a packet apart.</summary>
    /// <param name="flags">The first byte of the fixed header.</param>
    /// <param name="rest">Everything after the fixed header.</param>
    /// <param name="hasProperties">Whether it is of MQTT 5.</param>
    /// <exception cref="MqttProtocolViolationException">It is none.</exception>
    public static PublishPacket Parse(byte flags, ReadOnlyMemory<byte> rest, bool hasProperties)
    {
        var bytes = rest.Span;
        var at = 2;
        Require(bytes.Length >= at);
        int topicLength = BinaryPrimitives.ReadUInt16BigEndian(bytes);
        var topic = (Start: at, Length: topicLength);
        at += topicLength;
        ushort? id = null;
        if ((flags & 0x06) != 0)
        {
            Require(bytes.Length >= at + 2);
            id = BinaryPrimitives.ReadUInt16BigEndian(bytes[at..]);
            at += 2;
        }

        if (hasProperties)
        {
            Require(TryNumber(bytes, ref at, out var properties));
            at += properties;
        }

        Require(bytes.Length >= at);
        return new(rest.Slice(topic.Start, topic.Length), rest[at..], (flags & 0x01) != 0, id);
    }

    // A variable byte integer, section 1.5.5 of MQTT 5.0.
    private static bool TryNumber(ReadOnlySpan<byte> bytes, ref int at, out int number)
    {
        number = 0;
        for (var i = 0; at < bytes.Length; i++)
        {
            Require(i < LengthBytesMax);
            var part = bytes[at++];
            number |= (part & 0x7F) << (7 * i);
            if (part < 0x80)
            {
                return true;
            }
        }

        return false;
    }

    private static void Require(bool holds)
    {
        if (!holds)
        {
            throw new MqttProtocolViolationException("The broker sent a PUBLISH that cannot be taken apart.");
        }
    }
}
