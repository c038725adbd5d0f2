using System.Buffers;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using Chamber.Mqtt.Connection;
using FsCheck;
using FsCheck.Fluent;
using MQTTnet.Channel;
using MQTTnet.Exceptions;
using MQTTnet.Formatter;
using MQTTnet.Packets;
using MQTTnet.Protocol;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>Messages are taken out of the stream here, and everything else reaches the client. The client library's own writer makes the
/// bytes, so that what is read is what somebody else wrote. The bound is the program's own.</summary>
public sealed class BufferedChannelTests
{
    public static TheoryData<MqttProtocolVersion> Versions => [MqttProtocolVersion.V311, MqttProtocolVersion.V500];

    [Theory]
    [MemberData(nameof(Versions))]
    public void However_the_stream_is_cut_each_message_comes_out_once_and_in_order(MqttProtocolVersion version) =>
        Prop.ForAll(
            ArbMap.Default.ArbFor<NonEmptyArray<byte>>().Generator.ToArbitrary(),
            ArbMap.Default.ArbFor<int>().Generator.ToArbitrary(),
            (lengths, seed) => Sort(version, [.. lengths.Get.Select(length => length * 40)], new Random(seed)))
            .QuickCheckThrowOnFailure();

    [Fact]
    public void A_message_longer_than_any_limit_is_cut_and_the_next_one_is_whole()
    {
        var stream = Bytes(MqttProtocolVersion.V311, Publish("a", new byte[17 * 1024 * 1024], 1), Publish("b", [1, 2, 3], 2));

        var (taken, passed) = Read(MqttProtocolVersion.V311, stream, 60_000);

        Assert.Equal(["a", "b"], taken.Select(packet => Encoding.UTF8.GetString(packet.Topic.Span)));
        Assert.InRange(taken[0].Payload.Length, 10_000_001, 16 * 1024 * 1024);
        Assert.Equal([1, 2, 3], taken[1].Payload.ToArray());
        Assert.Empty(passed);
    }

    [Theory]
    [InlineData("30FFFFFFFF7F")]
    [InlineData("30020005")]
    [InlineData("3003000161")]
    [InlineData("320400016100")]
    public void A_packet_that_cannot_be_parsed_ends_the_connection_by_protocol_error(string hex)
    {
        var version = hex == "3003000161" ? MqttProtocolVersion.V500 : MqttProtocolVersion.V311;
        Assert.Throws<MqttProtocolViolationException>(() => Read(version, Convert.FromHexString(hex), 3));
    }

    private static bool Sort(MqttProtocolVersion version, int[] lengths, Random random)
    {
        var publishes = lengths.Select((length, i) =>
        {
            var payload = new byte[length];
            random.NextBytes(payload);
            return Publish($"topic/{i}", payload, i % 3 == 0 ? (ushort)0 : (ushort)(i + 1));
        }).ToList();
        var others = new MqttPacket[] { new MqttPingRespPacket(), new MqttPubAckPacket { PacketIdentifier = 7 } };
        var mixed = publishes.SelectMany(publish => random.Next(3) == 0 ? [publish, others[random.Next(2)]] : new MqttPacket[] { publish })
            .ToArray();

        var (taken, passed) = Read(version, Bytes(version, mixed), random.Next(1, 3000));

        return taken.Count == publishes.Count
            && taken.Zip(publishes).All(pair => Same(pair.First, pair.Second))
            && passed.SequenceEqual(Bytes(version, [.. mixed.Where(packet => packet is not MqttPublishPacket)]));
    }

    private static bool Same(PublishPacket taken, MqttPublishPacket sent) =>
        Encoding.UTF8.GetString(taken.Topic.Span) == sent.Topic
        && taken.Payload.Span.SequenceEqual(sent.Payload.ToArray())
        && (taken.PacketId ?? 0) == sent.PacketIdentifier
        && taken.Retained == sent.Retain;

    private static MqttPublishPacket Publish(string topic, byte[] payload, ushort id) => new()
    {
        Topic = topic,
        Payload = new(payload),
        PacketIdentifier = id,
        QualityOfServiceLevel = id == 0 ? MqttQualityOfServiceLevel.AtMostOnce : MqttQualityOfServiceLevel.AtLeastOnce,
        Retain = payload.Length % 2 == 1,
        ContentType = payload.Length % 5 == 1 ? new string('t', 200) : null,
    };

    private static byte[] Bytes(MqttProtocolVersion version, params MqttPacket[] packets)
    {
        var writer = new MqttPacketFormatterAdapter(version, new MqttBufferWriter(64, 1 << 25));
        return [.. packets.SelectMany(packet =>
        {
            var encoded = writer.Encode(packet);
            byte[] bytes = [.. encoded.Packet, .. encoded.Payload.ToArray()];
            writer.Cleanup();
            return bytes;
        })];
    }

    private static (List<PublishPacket> Taken, List<byte> Passed) Read(MqttProtocolVersion version, byte[] stream, int piece)
    {
        var taken = new List<PublishPacket>();
        using var channel = new BufferedChannel(new Pieces(stream, piece), version == MqttProtocolVersion.V500, packet =>
        {
            taken.Add(packet);
            return ValueTask.CompletedTask;
        });
        var passed = new List<byte>();
        var buffer = new byte[5];
        while (channel.ReadAsync(buffer, 1, 3, TestContext.Current.CancellationToken).GetAwaiter().GetResult() is > 0 and var count)
        {
            passed.AddRange(buffer.AsSpan(1, count));
        }

        return (taken, passed);
    }

    /// <summary>Gives a stream piece by piece, as a socket may.</summary>
    private sealed class Pieces(byte[] stream, int piece) : IMqttChannel
    {
        private int at;

        public X509Certificate2? ClientCertificate => null;

        public EndPoint? RemoteEndPoint => null;

        public EndPoint? LocalEndPoint => null;

        public bool IsSecureConnection => false;

        public Task ConnectAsync(CancellationToken cancellationToken) => Task.CompletedTask;

        public Task DisconnectAsync(CancellationToken cancellationToken) => Task.CompletedTask;

        public Task<int> ReadAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken)
        {
            var length = Math.Min(Math.Min(count, piece), stream.Length - at);
            Buffer.BlockCopy(stream, at, buffer, offset, length);
            at += length;
            return Task.FromResult(length);
        }

        public Task WriteAsync(ReadOnlySequence<byte> buffer, bool isEndOfPacket, CancellationToken cancellationToken) =>
            Task.CompletedTask;

        public void Dispose()
        {
        }
    }
}
