namespace Chamber.Mqtt.Connection;

/// <summary>
/// What came from a socket and was not taken yet. Bytes are only ever added behind those that are there, and a full buffer is
/// left to whoever holds slices of it, so what was taken stays as it was without being copied.
/// </summary>
internal sealed class PacketBuffer
{
    private const int Length = 64 * 1024;
    private const int RoomMin = 4 * 1024;

    private byte[] bytes = new byte[Length];
    private int start;
    private int end;

    public int Count => end - start;

    public ReadOnlySpan<byte> Span => bytes.AsSpan(start, end - start);

    /// <summary>Where the socket may write next; enough for the rest of a packet of this length.</summary>
    public (byte[] Bytes, int Offset, int Count) Room(int packetLength)
    {
        if (bytes.Length - end < Math.Max(RoomMin, packetLength - Count))
        {
            var fresh = new byte[Math.Max(Length, packetLength + RoomMin)];
            Span.CopyTo(fresh);
            (bytes, end, start) = (fresh, Count, 0);
        }

        return (bytes, end, bytes.Length - end);
    }

    public void Add(int count) => end += count;

    /// <summary>The next bytes, which stay as they are for as long as somebody holds them.</summary>
    public ReadOnlyMemory<byte> Take(int count)
    {
        var taken = bytes.AsMemory(start, count);
        start += count;
        return taken;
    }
}
