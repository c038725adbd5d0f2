using System.Buffers;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using MQTTnet.Channel;

namespace Chamber.Mqtt.Connection;

/// <summary>
/// Stands between the MQTT client and its socket. Reading: one system call fetches many packets; those that carry messages are
/// taken out here and handed on, and the client sees the others. Its own way makes half a dozen objects and a task of each
/// message, which took longer than decoding and storing it. While a message waits for room nothing is read, so that the sender
/// waits. Writing: acknowledgements are gathered and sent by hundreds in one call.
/// </summary>
/// <param name="inner">The socket, with TLS or without.</param>
/// <param name="hasProperties">Whether MQTT 5 is spoken.</param>
/// <param name="take">Takes a message in; when its task ends there is room for the next.</param>
internal sealed class BufferedChannel(IMqttChannel inner, bool hasProperties, Func<PublishPacket, ValueTask> take) : IMqttChannel
{
    /// <summary>Of a longer packet only so much is kept, which is more than any payload limit allows: it is refused as too large.</summary>
    private const int PacketLengthMax = 16 * 1024 * 1024;

    // One answer for each small length: reading without an allocation a packet.
    private static readonly Task<int>[] Lengths = [.. Enumerable.Range(0, 4097).Select(Task.FromResult)];

    private readonly PacketBuffer received = new();
    private readonly SemaphoreSlim writing = new(1, 1);
    private readonly ArrayBufferWriter<byte> acknowledgements = new();
    private int passing;
    private int dropping;
    private bool midPacket;

    public X509Certificate2? ClientCertificate => inner.ClientCertificate;

    public EndPoint? RemoteEndPoint => inner.RemoteEndPoint;

    public EndPoint? LocalEndPoint => inner.LocalEndPoint;

    public bool IsSecureConnection => inner.IsSecureConnection;

    public Task ConnectAsync(CancellationToken cancellationToken) => inner.ConnectAsync(cancellationToken);

    public Task DisconnectAsync(CancellationToken cancellationToken) => inner.DisconnectAsync(cancellationToken);

    public Task<int> ReadAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken)
    {
        if (passing == 0 || received.Count == 0)
        {
            return SortAndReadAsync(buffer, offset, count, cancellationToken);
        }

        var length = Copy(buffer, offset, count);
        return length < Lengths.Length ? Lengths[length] : Task.FromResult(length);
    }

    public async Task WriteAsync(ReadOnlySequence<byte> buffer, bool isEndOfPacket, CancellationToken cancellationToken)
    {
        // A packet may come in two parts; nothing else may be written between them.
        if (!midPacket)
        {
            await writing.WaitAsync(cancellationToken);
        }

        midPacket = true;
        try
        {
            await inner.WriteAsync(buffer, isEndOfPacket, cancellationToken);
        }
        catch
        {
            EndPacket();
            throw;
        }

        if (isEndOfPacket)
        {
            EndPacket();
        }
    }

    /// <summary>Gathers the acknowledgement of a QoS 1 message: PUBACK, which in every version is four bytes when all is well (MQTT 5.0,
    /// section 3.4).</summary>
    public void Acknowledge(ushort packetId)
    {
        var bytes = acknowledgements.GetSpan(4);
        bytes[0] = 0x40;
        bytes[1] = 2;
        bytes[2] = (byte)(packetId >> 8);
        bytes[3] = (byte)(packetId & 0xFF);
        acknowledgements.Advance(4);
    }

    /// <summary>Sends what was gathered. One caller at a time gathers and sends.</summary>
    public async Task SendAcknowledgementsAsync(CancellationToken cancellationToken)
    {
        await writing.WaitAsync(cancellationToken);
        try
        {
            await inner.WriteAsync(new(acknowledgements.WrittenMemory), true, cancellationToken);
        }
        finally
        {
            acknowledgements.ResetWrittenCount();
            writing.Release();
        }
    }

    public void Dispose()
    {
        // The semaphore is left to the collector: a late acknowledgement may still wait on it, and finds the socket closed.
        inner.Dispose();
    }

    private void EndPacket()
    {
        midPacket = false;
        writing.Release();
    }

    private async Task<int> SortAndReadAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken)
    {
        while (true)
        {
            var wanted = 0;
            if (passing > 0 && received.Count > 0)
            {
                return Copy(buffer, offset, count);
            }

            if (passing == 0 && dropping == 0 && NextPublish(ref wanted) is { } packet)
            {
                await take(packet);
            }
            else if ((passing == 0 || received.Count == 0) && !await FillAsync(wanted, cancellationToken))
            {
                return 0;
            }
        }
    }

    /// <summary>The next message, if all of it is there; says otherwise how long it is, or lets another packet pass.</summary>
    private PublishPacket? NextPublish(ref int wanted)
    {
        if (!PublishPacket.TryMeasure(received.Span, out var isPublish, out var headerLength, out var length))
        {
            return null;
        }

        if (!isPublish)
        {
            passing = headerLength + length;
            return null;
        }

        var kept = Math.Min(length, PacketLengthMax);
        if (received.Count < headerLength + kept)
        {
            wanted = headerLength + kept;
            return null;
        }

        var flags = received.Take(headerLength).Span[0];
        var packet = PublishPacket.Parse(flags, received.Take(kept), hasProperties);
        dropping = length - kept;
        Drop();
        return packet;
    }

    private async Task<bool> FillAsync(int packetLength, CancellationToken cancellationToken)
    {
        var room = received.Room(packetLength);
        var count = await inner.ReadAsync(room.Bytes, room.Offset, room.Count, cancellationToken);
        received.Add(count);
        Drop();
        return count > 0;
    }

    private void Drop() => dropping -= received.Take(Math.Min(dropping, received.Count)).Length;

    private int Copy(byte[] buffer, int offset, int count)
    {
        var taken = received.Take(Math.Min(Math.Min(count, passing), received.Count));
        taken.CopyTo(buffer.AsMemory(offset));
        passing -= taken.Length;
        return taken.Length;
    }
}
