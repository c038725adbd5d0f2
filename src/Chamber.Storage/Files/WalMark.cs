using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using Chamber.Storage.Hot;
using Microsoft.Data.Sqlite;
using Microsoft.Win32.SafeHandles;
using SQLitePCL;

namespace Chamber.Storage.Files;

/// <summary>
/// How far the log reached at the last commit, in a file of its own beside the data file. The database takes a damaged page of its log for
/// the end of it, and says nothing of the commits that stood behind; with the mark the next start notices (<see cref="WalTail"/>).
/// </summary>
internal sealed class WalMark : IDisposable
{
    /// <summary>After so many pages the log is taken into the file, as the database would by itself without a hook.</summary>
    private const int CheckpointAfter = 4000;

    private const int SaltsAt = 16;
    private const int SaltsLength = 8;
    private const int Length = SaltsLength + sizeof(long);

    private readonly string path;
    private readonly SqliteConnection writer;
    private GCHandle self;
    private SafeFileHandle? log;
    private SafeFileHandle? mark;
    private int frames;

    public WalMark(string path, SqliteConnection writer)
    {
        (this.path, this.writer) = (path, writer);
        self = GCHandle.Alloc(this);
        unsafe
        {
            Native.WalHook(writer.Handle!.DangerousGetHandle(), &Told, GCHandle.ToIntPtr(self));
        }
    }

    public static string FileOf(string path) => path + "-mark";

    /// <summary>The salts of the log and how many pages it held; null where there is no mark that can be read.</summary>
    public static (ulong Salts, long Frames)? Read(string path)
    {
        try
        {
            var bytes = File.ReadAllBytes(FileOf(path));
            return bytes.Length == Length
                ? (BinaryPrimitives.ReadUInt64BigEndian(bytes), BinaryPrimitives.ReadInt64BigEndian(bytes.AsSpan(SaltsLength)))
                : null;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    /// <summary>A commit is done. Not flushed to the disk: after a power cut an older mark is as true.</summary>
    public void Committed()
    {
        if (frames == 0)
        {
            return;
        }

        Mark();
        if (frames >= CheckpointAfter)
        {
            _ = raw.sqlite3_wal_checkpoint_v2(writer.Handle, null, raw.SQLITE_CHECKPOINT_PASSIVE, out _, out _);
        }

        frames = 0;
    }

    public void Dispose()
    {
        if (!self.IsAllocated)
        {
            return;
        }

        log?.Dispose();
        mark?.Dispose();
        self.Free();

        // Whoever closed last has taken the log into the file, and there is nothing more to compare.
        if (!File.Exists(path + "-wal"))
        {
            File.Delete(FileOf(path));
        }
    }

    private void Mark()
    {
        try
        {
            log ??= File.OpenHandle(path + "-wal", FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            mark ??= File.OpenHandle(FileOf(path), FileMode.OpenOrCreate, FileAccess.Write, FileShare.ReadWrite | FileShare.Delete);
            Span<byte> bytes = stackalloc byte[Length];
            if (RandomAccess.Read(log, bytes[..SaltsLength], SaltsAt) == SaltsLength)
            {
                BinaryPrimitives.WriteInt64BigEndian(bytes[SaltsLength..], frames);
                RandomAccess.Write(mark, bytes, fileOffset: 0);
            }
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            // What is committed is committed; an older mark only notices less.
        }
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static int Told(nint context, nint connection, nint name, int pages)
    {
        ((WalMark)GCHandle.FromIntPtr(context).Target!).frames = pages;
        return raw.SQLITE_OK;
    }
}
