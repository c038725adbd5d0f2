using System.Buffers;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using MQTTnet.Channel;

namespace Chamber.Mqtt.Connection;

/// <summary>
/// Stands between the MQTT client and its socket. Reading: the client asks for two bytes, then for the rest of a packet; here one
/// system call fetches many packets. Writing: acknowledgements are gathered and sent by hundreds in one call. It also stops
/// reading while the intake is full, so that the sender waits and the client's own queue stays small.
/// </summary>
internal sealed class BufferedChannel(IMqttChannel inner, Func<Task> whenThereIsRoom) : IMqttChannel
{
    private const int BufferLength = 64 * 1024;

    // One answer for each small length: reading without an allocation a packet.
    private static readonly Task<int>[] Lengths = [.. Enumerable.Range(0, 4097).Select(Task.FromResult)];

    private readonly byte[] received = new byte[BufferLength];
    private readonly SemaphoreSlim writing = new(1, 1);
    private readonly ArrayBufferWriter<byte> acknowledgements = new();
    private int start;
    private int end;
    private bool midPacket;

    public X509Certificate2? ClientCertificate => inner.ClientCertificate;

    public EndPoint? RemoteEndPoint => inner.RemoteEndPoint;

    public EndPoint? LocalEndPoint => inner.LocalEndPoint;

    public bool IsSecureConnection => inner.IsSecureConnection;

    public Task ConnectAsync(CancellationToken cancellationToken) => inner.ConnectAsync(cancellationToken);

    public Task DisconnectAsync(CancellationToken cancellationToken) => inner.DisconnectAsync(cancellationToken);

    public Task<int> ReadAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken)
    {
        if (start == end)
        {
            return FillAndReadAsync(buffer, offset, count, cancellationToken);
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

    /// <summary>Gathers the acknowledgement of a QoS 1 message: PUBACK, which in every version is four bytes when all is well (MQTT 5.0, section 3.4).</summary>
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

    private async Task<int> FillAndReadAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken)
    {
        await whenThereIsRoom().WaitAsync(cancellationToken);
        start = 0;
        end = await inner.ReadAsync(received, 0, received.Length, cancellationToken);
        return Copy(buffer, offset, count);
    }

    private int Copy(byte[] buffer, int offset, int count)
    {
        var length = Math.Min(count, end - start);
        Buffer.BlockCopy(received, start, buffer, offset, length);
        start += length;
        return length;
    }
}
