namespace Chamber.Fuzz;

/// <summary>Steps by packets of MQTT (3.1.1 and 5.0, section 2): one is doubled, dropped, moved, or bent inside, and its length is written
/// again so that it is taken for whole.</summary>
internal sealed class PacketSteps : IStructuredSteps
{
    public void Step(List<byte> bytes, Random random)
    {
        var packets = Packets(bytes);
        if (packets.Count == 0)
        {
            return;
        }

        var at = random.Next(packets.Count);
        var (first, body) = packets[at];
        switch (random.Next(6))
        {
            case 0:
                packets.Insert(random.Next(packets.Count + 1), (first, [.. body]));
                break;
            case 1 when packets.Count > 1:
                packets.RemoveAt(at);
                break;
            case 2:
                packets[at] = ((byte)(first ^ (1 << random.Next(8))), body);
                break;
            case 3 when body.Count > 0:
                body.RemoveRange(random.Next(body.Count), 1);
                break;
            case 4:
                body.Insert(random.Next(body.Count + 1), (byte)random.Next(256));
                break;
            default:
                if (body.Count > 0)
                {
                    body[random.Next(body.Count)] = (byte)random.Next(random.Next(2) == 0 ? 8 : 256);
                }

                break;
        }

        bytes.Clear();
        foreach (var packet in packets)
        {
            Write(bytes, packet.First, packet.Body);
        }
    }

    // What is cut off, or has a length that is none, counts as one packet with the rest for its body.
    private static List<(byte First, List<byte> Body)> Packets(List<byte> bytes)
    {
        var packets = new List<(byte, List<byte>)>();
        for (var at = 0; at < bytes.Count;)
        {
            var first = bytes[at++];
            var length = 0;
            for (var shift = 0; at < bytes.Count && shift < 28; shift += 7)
            {
                var part = bytes[at++];
                length |= (part & 0x7F) << shift;
                if (part < 0x80)
                {
                    break;
                }
            }

            length = Math.Min(length, bytes.Count - at);
            packets.Add((first, bytes.GetRange(at, length)));
            at += length;
        }

        return packets;
    }

    private static void Write(List<byte> bytes, byte first, List<byte> body)
    {
        bytes.Add(first);
        var length = body.Count;
        do
        {
            bytes.Add((byte)((length & 0x7F) | (length > 0x7F ? 0x80 : 0)));
            length >>= 7;
        }
        while (length > 0);
        bytes.AddRange(body);
    }
}
