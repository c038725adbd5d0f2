namespace Chamber.Storage.Moving;

/// <summary>The lines of a file that comes from elsewhere.</summary>
internal static class TextLines
{
    // What was refused has as much as a broker takes in one message, with each letter spelled out.
    private const int LengthMax = 16 << 20;

    /// <exception cref="FormatException">A line is longer than an export writes any; the message names it.</exception>
    public static IEnumerable<string> Of(string path)
    {
        Check(path);
        return File.ReadLines(path);
    }

    /// <summary>Looks through a file before it is read: a reader keeps a whole line in memory, and of one without end all there
    /// is.</summary>
    /// <exception cref="FormatException">A line is longer than an export writes any; the message names it.</exception>
    public static void Check(string path)
    {
        using var file = File.OpenRead(path);
        var buffer = new byte[1 << 16];
        var (line, length) = (1L, 0L);
        while (file.Read(buffer) is var count and > 0)
        {
            var part = buffer.AsSpan(0, count);
            while (part.IndexOf((byte)'\n') is var end and >= 0)
            {
                Add(end);
                part = part[(end + 1)..];
                (line, length) = (line + 1, 0);
            }

            Add(part.Length);
        }

        void Add(int more)
        {
            length += more;
            if (length > LengthMax)
            {
                throw new FormatException($"{path} line {line}: it is longer than 16 MiB, which no line of an export is. "
                    + "Take the folder as chamber export --all wrote it.");
            }
        }
    }
}
