using System.Buffers;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using MQTTnet.Channel;

namespace Chamber.Mqtt.Broker;

/// <summary>
/// Counts along with the packets that a client sends (MQTT 5.0, section 2.1) and ends the connection at the first whose length is beyond
/// the bound. The library sets memory aside for a packet as soon as it has read how long that says it is, a quarter of a gigabyte at
/// most, before anybody has asked for a password; here the length is judged first.
/// </summary>
/// <param name="inner">The socket, with TLS or without.</param>
/// <param name="lengthMax">The longest packet before the client is let in, bytes after the fixed header.</param>
/// <param name="count">Counts a packet that is longer.</param>
internal sealed class BoundedChannel(IMqttChannel inner, int lengthMax, Action count) : IMqttChannel
{
    private const int LengthBytesMax = 4;

    private int lengthMax = lengthMax;
    private bool isInLength;
    private int lengthBytes;
    private long length;
    private long body;

    public EndPoint RemoteEndPoint => inner.RemoteEndPoint;

    public EndPoint LocalEndPoint => inner.LocalEndPoint;

    public bool IsSecureConnection => inner.IsSecureConnection;

    public X509Certificate2 ClientCertificate => inner.ClientCertificate;

    /// <summary>The client was let in: from now on its packets may be so long.</summary>
    public void Allow(int longest) => Volatile.Write(ref lengthMax, longest);

    public Task ConnectAsync(CancellationToken cancellationToken) => inner.ConnectAsync(cancellationToken);

    public Task DisconnectAsync(CancellationToken cancellationToken) => inner.DisconnectAsync(cancellationToken);

    public async Task<int> ReadAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken)
    {
        var read = await inner.ReadAsync(buffer, offset, count, cancellationToken);
        Follow(buffer.AsSpan(offset, read));
        return read;
    }

    public Task WriteAsync(ReadOnlySequence<byte> buffer, bool isEndOfPacket, CancellationToken cancellationToken) =>
        inner.WriteAsync(buffer, isEndOfPacket, cancellationToken);

    public void Dispose() => inner.Dispose();

    private void Follow(ReadOnlySpan<byte> bytes)
    {
        while (bytes.Length > 0)
        {
            if (body > 0)
            {
                var part = (int)Math.Min(body, bytes.Length);
                body -= part;
                bytes = bytes[part..];
            }
            else if (!isInLength)
            {
                (isInLength, lengthBytes, length) = (true, 0, 0);
                bytes = bytes[1..];
            }
            else
            {
                Lengthen(bytes[0]);
                bytes = bytes[1..];
            }
        }
    }

    // Seven bits a byte, the lowest first; the eighth says that more follow (MQTT 5.0, section 1.5.5).
    private void Lengthen(byte next)
    {
        length |= (long)(next & 0x7F) << (7 * lengthBytes++);
        if ((next & 0x80) != 0 && lengthBytes < LengthBytesMax)
        {
            return;
        }

        var longest = Volatile.Read(ref lengthMax);
        if (length > longest)
        {
            count();
            throw new PacketTooLongException($"A packet of {length} bytes is longer than the {longest} that are taken.");
        }

        (isInLength, body) = (false, length);
    }
}

/// <summary>A client says that more is to come than is taken.</summary>
internal sealed class PacketTooLongException(string message) : IOException(message);
