using System.Runtime.InteropServices;

namespace Chamber.Storage.Hot;

/// <summary>
/// The few calls into the SQLite library that run once or more for each reading. The binding library makes the same calls
/// through an interface and a safe handle, which costs more than the call itself. Those that never wait skip the switch of
/// the garbage collector's mode; a step may read the disk and does not.
/// </summary>
internal static partial class Native
{
    private const string Library = "e_sqlite3";

    [LibraryImport(Library, EntryPoint = "sqlite3_step")]
    public static partial int Step(nint statement);

    [LibraryImport(Library, EntryPoint = "sqlite3_reset")]
    public static partial int Reset(nint statement);

    [LibraryImport(Library, EntryPoint = "sqlite3_changes")]
    [SuppressGCTransition]
    public static partial int Changes(nint connection);

    [LibraryImport(Library, EntryPoint = "sqlite3_bind_int64")]
    [SuppressGCTransition]
    public static partial int BindWhole(nint statement, int index, long value);

    [LibraryImport(Library, EntryPoint = "sqlite3_bind_double")]
    [SuppressGCTransition]
    public static partial int BindReal(nint statement, int index, double value);

    [LibraryImport(Library, EntryPoint = "sqlite3_bind_null")]
    [SuppressGCTransition]
    public static partial int BindNull(nint statement, int index);

    [LibraryImport(Library, EntryPoint = "sqlite3_column_type")]
    [SuppressGCTransition]
    public static partial int ColumnType(nint statement, int column);

    [LibraryImport(Library, EntryPoint = "sqlite3_column_int64")]
    [SuppressGCTransition]
    public static partial long ColumnWhole(nint statement, int column);

    [LibraryImport(Library, EntryPoint = "sqlite3_column_double")]
    [SuppressGCTransition]
    public static partial double ColumnReal(nint statement, int column);

    /// <summary>Called after each commit of a connection with the pages that its log holds then; takes the place of the call by which the
    /// database takes its log in by itself.</summary>
    [LibraryImport(Library, EntryPoint = "sqlite3_wal_hook")]
    public static unsafe partial nint WalHook(nint connection, delegate* unmanaged[Cdecl]<nint, nint, nint, int, int> called, nint context);

    /// <summary>The way to files of this name; null for the one that is used where none is named.</summary>
    [LibraryImport(Library, EntryPoint = "sqlite3_vfs_find")]
    public static partial nint VfsFind(nint name);

    [LibraryImport(Library, EntryPoint = "sqlite3_vfs_register")]
    public static partial int VfsRegister(nint vfs, int isDefault);

    [LibraryImport(Library, EntryPoint = "sqlite3_file_control", StringMarshalling = StringMarshalling.Utf8)]
    public static unsafe partial int FileControl(nint connection, string database, int what, void* argument);
}
