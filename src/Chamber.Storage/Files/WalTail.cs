using System.Buffers.Binary;

namespace Chamber.Storage.Files;

/// <summary>
/// Reads the log as the database will at the next start, and compares how far it gets with the mark of the last commit. The form is that of
/// the SQLite file format, section 4 (sqlite.org/fileformat2.html): a header, then pages, each with the sum over all before it.
/// </summary>
internal static class WalTail
{
    private const int HeaderLength = 32;
    private const int FrameHeaderLength = 24;
    private const int SumsLength = 8;
    private const uint Magic = 0x377f0682;

    public static string NoteOf(string path) => path + "-lost";

    /// <summary>Looks before the file is opened. What is found missing is written beside the file, and said until somebody removes
    /// that.</summary>
    /// <returns>What is said; null when nothing is missing.</returns>
    public static StoreException? Look(string path)
    {
        if (IsShort(path) && IsShort(path))
        {
            // Twice: another process may have begun the log again in between.
            File.WriteAllText(NoteOf(path), "Chamber found the end of its log damaged at a start. See docs/storage.md.\n");
        }

        return File.Exists(NoteOf(path)) ? new(StoreFault.Corrupt, path,
            "the end of its log was damaged when Chamber was last started, and readings or entries that had been taken in are missing.",
            $"Look at what was heard and written down before that, write down again what is missing, and test the disk; then delete "
                + $"{Path.GetFileName(NoteOf(path))}.") : null;
    }

    private static bool IsShort(string path)
    {
        if (WalMark.Read(path) is not { } mark)
        {
            return false;
        }

        try
        {
            using var log = new FileStream(path + "-wal", FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, 1 << 16);
            return Whole(log) is { } whole ? whole.Salts == mark.Salts && whole.Frames < mark.Frames : IsNewer(path);
        }
        catch (FileNotFoundException)
        {
            return IsNewer(path);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            // Opening the file says what is the matter.
            return false;
        }
    }

    // Without a log that can be read, all of it is lost; unless it was taken into the file since.
    private static bool IsNewer(string path) => File.GetLastWriteTimeUtc(path) <= File.GetLastWriteTimeUtc(WalMark.FileOf(path));

    /// <summary>The salts of the log, and how many of its pages, up to the last commit, have the sums that they should; null when it has no
    /// header.</summary>
    private static (ulong Salts, long Frames)? Whole(Stream log)
    {
        Span<byte> header = stackalloc byte[HeaderLength];
        if (log.ReadAtLeast(header, HeaderLength, throwOnEndOfStream: false) < HeaderLength)
        {
            return null;
        }

        var magic = BinaryPrimitives.ReadUInt32BigEndian(header);
        var size = BinaryPrimitives.ReadInt32BigEndian(header[8..]);
        var isBig = (magic & 1) != 0;
        var sums = Add(default, header[..(HeaderLength - SumsLength)], isBig);
        if ((magic & ~1u) != Magic || size is < 512 or > 65_536 || sums != Sums(header[(HeaderLength - SumsLength)..]))
        {
            return null;
        }

        var salts = BinaryPrimitives.ReadUInt64BigEndian(header[16..]);
        var frame = new byte[FrameHeaderLength + size];
        var (read, committed) = (0L, 0L);
        while (log.ReadAtLeast(frame, frame.Length, throwOnEndOfStream: false) == frame.Length)
        {
            sums = Add(Add(sums, frame.AsSpan(0, 8), isBig), frame.AsSpan(FrameHeaderLength), isBig);
            if (BinaryPrimitives.ReadUInt64BigEndian(frame.AsSpan(8)) != salts || sums != Sums(frame.AsSpan(16)))
            {
                break;
            }

            read++;

            // The size of the file after a commit; none in the middle of one.
            committed = BinaryPrimitives.ReadUInt32BigEndian(frame.AsSpan(4)) != 0 ? read : committed;
        }

        return (salts, committed);
    }

    private static (uint, uint) Sums(ReadOnlySpan<byte> bytes) =>
        (BinaryPrimitives.ReadUInt32BigEndian(bytes), BinaryPrimitives.ReadUInt32BigEndian(bytes[4..]));

    private static (uint, uint) Add((uint First, uint Second) sums, ReadOnlySpan<byte> bytes, bool isBig)
    {
        var (first, second) = sums;
        for (var i = 0; i < bytes.Length; i += 8)
        {
            first = unchecked(first + Word(bytes[i..], isBig) + second);
            second = unchecked(second + Word(bytes[(i + 4)..], isBig) + first);
        }

        return (first, second);
    }

    private static uint Word(ReadOnlySpan<byte> bytes, bool isBig) =>
        isBig ? BinaryPrimitives.ReadUInt32BigEndian(bytes) : BinaryPrimitives.ReadUInt32LittleEndian(bytes);
}
