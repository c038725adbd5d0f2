using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Seam;

/// <summary>What is the matter with the store.</summary>
public enum StoreFault
{
    /// <summary>There is no such file, or no such folder.</summary>
    Missing,

    /// <summary>The file is something else than a database.</summary>
    NotADatabase,

    /// <summary>It is a database, but of another program.</summary>
    NotOurs,

    /// <summary>A newer Chamber wrote it.</summary>
    NewerVersion,

    /// <summary>Pages of it contradict each other or cannot be read.</summary>
    Corrupt,

    /// <summary>Another process kept it locked for longer than the patience.</summary>
    Locked,

    /// <summary>It may not be written.</summary>
    ReadOnly,

    /// <summary>No room is left on the disk, or under a size limit.</summary>
    DiskFull,

    /// <summary>The disk or the file system gave an error.</summary>
    Disk,

    /// <summary>The store is a server, and it does not answer.</summary>
    Away,

    /// <summary>The machine has no memory left for it.</summary>
    Memory,

    /// <summary>The file is well, and its rules do not allow what was to be written.</summary>
    Content,

    /// <summary>Something that should never happen.</summary>
    Unexpected,
}

/// <summary>
/// The data file could not be opened, read or written. What was asked for has not happened, not even by half.
/// The message is one sentence that names the file and the fault, followed by the fix.
/// </summary>
public sealed class StoreException : Exception
{
    private const string Restore = "Stop the service, keep a copy of the file, and restore the newest backup (chamber check says "
        + "whether it is whole).";

    /// <param name="fault">What is the matter.</param>
    /// <param name="path">The file, or what it is otherwise.</param>
    /// <param name="what">The fault: the rest of a sentence that begins with <paramref name="path"/>.</param>
    /// <param name="fix">One sentence that says what to do about it.</param>
    /// <param name="inner">Where it comes from.</param>
    public StoreException(StoreFault fault, string path, string what, string fix, Exception? inner = null)
        : base($"{path}: {what} {fix}", inner)
    {
        Fault = fault;
        Path = path;
        Fix = fix;
    }

    /// <summary>What is the matter.</summary>
    public StoreFault Fault { get; }

    /// <summary>The file.</summary>
    public string Path { get; }

    /// <summary>One sentence that says what to do about it.</summary>
    public string Fix { get; }

    /// <summary>What lies in the file cannot be right, and does not repair itself.</summary>
    public bool IsDamage => Fault is StoreFault.Corrupt or StoreFault.NotADatabase;

    /// <summary>A row, or a page, holds what Chamber never wrote.</summary>
    internal static StoreException Damaged(string path, Exception? inner = null) =>
        new(StoreFault.Corrupt, path, "the file is damaged.", Restore, inner);

    internal static StoreException From(SqliteException exception, string path)
    {
        var (fault, what, fix) = exception.SqliteErrorCode switch
        {
            // The file that processes share is laid out whole before it is used, so a failure there is want of room.
            SQLitePCL.raw.SQLITE_FULL or SQLitePCL.raw.SQLITE_IOERR
                when exception.SqliteExtendedErrorCode is SQLitePCL.raw.SQLITE_FULL or SQLitePCL.raw.SQLITE_IOERR_SHMSIZE =>
                (StoreFault.DiskFull, "the disk is full.", "Make room on it; nothing was half-written, and the same can be tried again."),
            SQLitePCL.raw.SQLITE_BUSY or SQLitePCL.raw.SQLITE_LOCKED or SQLitePCL.raw.SQLITE_PROTOCOL =>
                (StoreFault.Locked, "another process keeps the file locked.",
                "End the program that holds it (a backup, a database browser), then try again."),
            SQLitePCL.raw.SQLITE_READONLY or SQLitePCL.raw.SQLITE_PERM =>
                (StoreFault.ReadOnly, "the file may not be written.", "Give this user the right to write the file and its folder."),
            SQLitePCL.raw.SQLITE_CORRUPT => (StoreFault.Corrupt, "the file is damaged.", Restore),
            SQLitePCL.raw.SQLITE_NOTADB =>
                (StoreFault.NotADatabase, "the file is not a database.", "Name another data directory, or move the file away."),
            SQLitePCL.raw.SQLITE_CANTOPEN =>
                (StoreFault.Missing, "the file cannot be opened.", "See that the folder exists and that this user may read and write it."),
            SQLitePCL.raw.SQLITE_IOERR =>
                (StoreFault.Disk, $"the disk gave an error ({exception.SqliteExtendedErrorCode}).",
                "See that the disk is healthy and has room; nothing was half-written."),
            SQLitePCL.raw.SQLITE_NOMEM =>
                (StoreFault.Memory, "the machine has no memory left.", "End other programs, or give it more; nothing was half-written."),
            SQLitePCL.raw.SQLITE_CONSTRAINT or SQLitePCL.raw.SQLITE_MISMATCH or SQLitePCL.raw.SQLITE_TOOBIG =>
                (StoreFault.Content, $"the file does not allow what was to be written ({exception.SqliteExtendedErrorCode}: "
                + $"{exception.Message}).", "The rest goes on; report it with this line."),
            SQLitePCL.raw.SQLITE_ERROR when exception.Message.Contains("no such ", StringComparison.Ordinal) =>
                (StoreFault.Corrupt, $"a part of the file is missing ({exception.Message}).", Restore),
            _ => (StoreFault.Unexpected, $"the database gave an error that should not happen ({exception.SqliteExtendedErrorCode}: "
                + $"{exception.Message}).", "Try again; if it comes back, keep a copy of the file and report it."),
        };
        return new(fault, path, what, fix, exception);
    }
}
