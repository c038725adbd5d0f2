using System.Buffers.Binary;
using System.Net.Sockets;
using System.Text;

namespace Chamber.Benchmarks.Pipeline;

/// <summary>
/// Just enough of MQTT 3.1.1 to fill a broker's queue as fast as it takes messages, so that the sender is never what limits.
/// </summary>
internal sealed class RawClient : IDisposable
{
    private const int Window = 2000;

    private readonly TcpClient tcp = new() { NoDelay = true };
    private readonly NetworkStream stream;

    public RawClient(int port, string clientId, bool clean)
    {
        tcp.Connect("127.0.0.1", port);
        stream = tcp.GetStream();
        byte[] id = Encoding.UTF8.GetBytes(clientId);
        stream.Write([0x10, (byte)(12 + id.Length), 0, 4, .. "MQTT"u8, 4, (byte)(clean ? 2 : 0), 0, 0, 0, (byte)id.Length, .. id]);
        Expect(4, 0x20);
    }

    /// <summary>Makes the broker keep messages of the filter for this client.</summary>
    public void Subscribe(string filter, int qos)
    {
        byte[] text = Encoding.UTF8.GetBytes(filter);
        stream.Write([0x82, (byte)(5 + text.Length), 0, 1, 0, (byte)text.Length, .. text, (byte)qos]);
        Expect(5, 0x90);
    }

    /// <summary>Publishes every message, and returns when the broker has them all.</summary>
    public void Publish(IEnumerable<(byte[] Topic, byte[] Payload)> messages, int qos)
    {
        foreach (var window in messages.Chunk(Window))
        {
            using var packets = new MemoryStream(window.Length * 128);
            for (var i = 0; i < window.Length; i++)
            {
                Write(packets, window[i].Topic, window[i].Payload, qos, i + 1);
            }

            stream.Write(packets.GetBuffer().AsSpan(0, (int)packets.Length));
            if (qos == 1)
            {
                stream.ReadExactly(new byte[4 * window.Length]);
            }
        }

        // The answer to a ping comes after everything before it was taken in.
        stream.Write([0xC0, 0]);
        Expect(2, 0xD0);
    }

    public void Dispose()
    {
        stream.Write([0xE0, 0]);
        stream.Dispose();
        tcp.Dispose();
    }

    private static void Write(MemoryStream packets, byte[] topic, byte[] payload, int qos, int id)
    {
        var length = 2 + topic.Length + (qos > 0 ? 2 : 0) + payload.Length;
        packets.WriteByte((byte)(0x30 | (qos << 1)));
        if (length > 127)
        {
            packets.WriteByte((byte)((length & 127) | 128));
            length >>= 7;
        }

        packets.WriteByte((byte)length);
        Span<byte> number = stackalloc byte[2];
        BinaryPrimitives.WriteUInt16BigEndian(number, (ushort)topic.Length);
        packets.Write(number);
        packets.Write(topic);
        if (qos > 0)
        {
            BinaryPrimitives.WriteUInt16BigEndian(number, (ushort)id);
            packets.Write(number);
        }

        packets.Write(payload);
    }

    private void Expect(int length, byte kind)
    {
        var answer = new byte[length];
        stream.ReadExactly(answer);
        if (answer[0] != kind)
        {
            throw new InvalidOperationException($"The broker answered with packet {answer[0]:X2} instead of {kind:X2}.");
        }
    }
}
