using System.Collections.Concurrent;
using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using Chamber.Storage.Hot;
using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace Chamber.Storage.Files;

/// <summary>
/// A sum over each page of the data file, written with it and judged whenever it is read. SQLite keeps none, and takes a number that a disk
/// has changed for the number; with the sum such a page is damaged, as one that cannot be read. The sum stands in the last eight bytes of
/// the page, which SQLite leaves alone where byte 20 of the file says so (sqlite.org/fileformat2.html, section 1.3.4). A file that does not
/// say so is read and written as it is.
/// </summary>
/// <remarks>It is a VFS (sqlite.org/vfs.html): the library's own, whose reading and writing of data files have the sum around them. A page
/// of the log has SQLite's own sums.</remarks>
internal static unsafe class PageSums
{
    /// <summary>Bytes at the end of each page.</summary>
    private const int Length = 8;

    private const int PageSize = 4096;
    private const int ReservedAt = 20;
    private const int PageSizeAt = 16;
    private const int HeaderLength = 100;
    private const int MainDatabase = 0x100;
    private const int ReserveBytes = 38;

    // Words of sqlite3_vfs, version 3, and of sqlite3_io_methods, version 3, as a machine of 64 bits lays them.
    private const int VfsWords = 21;
    private const int VfsNext = 2;
    private const int VfsName = 3;
    private const int VfsOpen = 5;
    private const int MethodsWords = 19;
    private const int MethodsRead = 2;
    private const int MethodsWrite = 3;

    private static readonly ConcurrentDictionary<nint, (nint Summed, nint Unknown)> Wrapped = new();

    private static delegate* unmanaged[Cdecl]<nint, nint, nint, int, int*, int> open;
    private static delegate* unmanaged[Cdecl]<nint, byte*, int, long, int> read;
    private static delegate* unmanaged[Cdecl]<nint, byte*, int, long, int> write;

    /// <summary>From now on every data file that this process opens has them, unless it was made without.</summary>
    public static void Register()
    {
        var own = Copied(Native.VfsFind(0), VfsWords);
        open = (delegate* unmanaged[Cdecl]<nint, nint, nint, int, int*, int>)own[VfsOpen];
        own[VfsNext] = 0;
        own[VfsName] = Marshal.StringToCoTaskMemUTF8("chamber");
        own[VfsOpen] = (nint)(delegate* unmanaged[Cdecl]<nint, nint, nint, int, int*, int>)&Open;
        _ = Native.VfsRegister((nint)own, isDefault: 1);
    }

    /// <summary>A file that is still empty will have them.</summary>
    public static void Lay(SqliteConnection connection) => Reserved(connection, Length);

    /// <summary>An empty file that becomes a copy will have them if the other has. Its first page is written now: by it the pages that
    /// follow are known to have them.</summary>
    public static void LayAs(SqliteConnection other, SqliteConnection copy)
    {
        if (Reserved(other, -1) == Length)
        {
            Lay(copy);
            copy.Execute("PRAGMA user_version = 1");
        }
    }

    // What was reserved before; -1 changes nothing.
    private static int Reserved(SqliteConnection connection, int bytes)
    {
        _ = Native.FileControl(connection.Handle!.DangerousGetHandle(), "main", ReserveBytes, &bytes);
        return bytes;
    }

    // Whether the header of a file says that the end of each page is left alone.
    private static bool Has(ReadOnlySpan<byte> header) => header.StartsWith("SQLite format 3\0"u8) &&
        header[ReservedAt] == Length && header[PageSizeAt] == PageSize >> 8 && header[PageSizeAt + 1] == 0;

    /// <summary>Two halves, each over every second word, so that the processor works on both at once. The number of the page is in it: a
    /// page at another's place is wrong too.</summary>
    private static ulong Of(byte* page, long number)
    {
        var words = new ReadOnlySpan<ulong>(page, (PageSize - Length) / sizeof(ulong));
        var (even, odd) = ((uint)number + 1, ~(uint)number);
        for (var i = 0; i + 1 < words.Length; i += 2)
        {
            even = BitOperations.Crc32C(even, words[i]);
            odd = BitOperations.Crc32C(odd, words[i + 1]);
        }

        return BitOperations.Crc32C(even, words[^1]) | ((ulong)odd << 32);
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static int Open(nint vfs, nint name, nint file, int flags, int* flagsOut)
    {
        var result = open(vfs, name, file, flags, flagsOut);
        if (result == raw.SQLITE_OK && (flags & MainDatabase) != 0)
        {
            var methods = *(nint*)file;
            var header = stackalloc byte[HeaderLength];
            var isThere = ReadOf(methods)(file, header, HeaderLength, 0) == raw.SQLITE_OK;
            if (!isThere || Has(new(header, HeaderLength)))
            {
                var (summed, unknown) = Wrapped.GetOrAdd(methods, Wrap);
                *(nint*)file = isThere ? summed : unknown;
            }
        }

        return result;
    }

    private static (nint Summed, nint Unknown) Wrap(nint usual)
    {
        read = ReadOf(usual);
        write = (delegate* unmanaged[Cdecl]<nint, byte*, int, long, int>)((nint*)usual)[MethodsWrite];
        return (With(usual, &ReadSummed, &WriteSummed), With(usual, &ReadUnknown, &WriteUnknown));
    }

    private static nint With(nint usual, delegate* unmanaged[Cdecl]<nint, byte*, int, long, int> reads,
        delegate* unmanaged[Cdecl]<nint, byte*, int, long, int> writes)
    {
        var methods = Copied(usual, MethodsWords);
        methods[MethodsRead] = (nint)reads;
        methods[MethodsWrite] = (nint)writes;
        return (nint)methods;
    }

    private static delegate* unmanaged[Cdecl]<nint, byte*, int, long, int> ReadOf(nint methods) =>
        (delegate* unmanaged[Cdecl]<nint, byte*, int, long, int>)((nint*)methods)[MethodsRead];

    // For as long as the process lives.
    private static nint* Copied(nint from, int words)
    {
        var copy = (nint*)NativeMemory.Alloc((nuint)(words * sizeof(nint)));
        Unsafe.CopyBlock(copy, (void*)from, (uint)(words * sizeof(nint)));
        return copy;
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static int ReadSummed(nint file, byte* buffer, int length, long at)
    {
        if (length == PageSize || at == 0 || at % PageSize != 0)
        {
            return Judge(read(file, buffer, length, at), buffer, length, at);
        }

        // What goes on from a page that is too small for it is read from the start of the next, as far as it goes, past the cache.
        var page = stackalloc byte[PageSize];
        var result = Judge(read(file, page, PageSize, at), page, PageSize, at);
        Unsafe.CopyBlock(buffer, page, (uint)length);
        return result;
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static int WriteSummed(nint file, byte* buffer, int length, long at) => WithSum(file, buffer, length, at);

    // A file that was empty when it was opened tells by its first page, which this process writes or another has written meanwhile.
    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static int ReadUnknown(nint file, byte* buffer, int length, long at)
    {
        var result = read(file, buffer, length, at);
        return result == raw.SQLITE_OK && IsFirst(file, buffer, length, at) ? Judge(result, buffer, length, at) : result;
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static int WriteUnknown(nint file, byte* buffer, int length, long at) =>
        IsFirst(file, buffer, length, at) ? WithSum(file, buffer, length, at) : write(file, buffer, length, at);

    private static bool IsFirst(nint file, byte* buffer, int length, long at)
    {
        if (at != 0 || length < HeaderLength || !Has(new(buffer, length)))
        {
            return false;
        }

        foreach (var (summed, unknown) in Wrapped.Values)
        {
            *(nint*)file = *(nint*)file == unknown ? summed : *(nint*)file;
        }

        return true;
    }

    private static int Judge(int result, byte* buffer, int length, long at) =>
        result == raw.SQLITE_OK && length == PageSize && *(ulong*)(buffer + PageSize - Length) != Of(buffer, at / PageSize)
            ? raw.SQLITE_CORRUPT : result;

    private static int WithSum(nint file, byte* buffer, int length, long at)
    {
        if (length != PageSize)
        {
            return write(file, buffer, length, at);
        }

        var page = stackalloc byte[PageSize];
        Unsafe.CopyBlock(page, buffer, PageSize - Length);
        *(ulong*)(page + PageSize - Length) = Of(page, at / PageSize);
        return write(file, page, PageSize, at);
    }
}
