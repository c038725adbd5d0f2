using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Files;

/// <summary>Copies the file while it is in use, and believes a copy only after it has been read through.</summary>
internal static class Backup
{
    /// <summary>Copies the whole file. The target appears complete and verified, or not at all.</summary>
    public static BackupReport Write(Database source, string target) => Replace(target, unfinished =>
    {
        var counts = Copy(source, unfinished);
        var report = VerifyCopy(source, unfinished);
        return report.Counts == counts
            ? report with { Path = target }
            : throw new StoreException(StoreFault.Corrupt, target, "the copy does not hold what the file holds.",
                "Look at the disk it is written to.");
    });

    // A copy is taken page by page, so a damaged file makes a damaged copy: then it is not the copy's disk that is to blame.
    private static BackupReport VerifyCopy(Database source, string unfinished)
    {
        try
        {
            return Verify(unfinished);
        }
        catch (StoreException problem) when (problem.IsDamage)
        {
            throw source.Read(reader => reader.Text("PRAGMA integrity_check(1)")) == "ok" ? problem
                : source.Noted(StoreException.Damaged(source.Path, problem));
        }
    }

    /// <summary>Reads a file through: is it ours, of a version that is known, and whole?</summary>
    /// <exception cref="StoreException">It is not.</exception>
    public static BackupReport Verify(string path)
    {
        if (!File.Exists(path))
        {
            throw new StoreException(StoreFault.Missing, path, "there is no such file.", "Name another one.");
        }

        using var connection = Connections.Open(path, new(), readOnly: true);
        try
        {
            var version = Schema.Check(connection, path);
            var verdict = connection.Text("PRAGMA integrity_check(1)");
            var orphan = connection.Text("SELECT \"table\" FROM pragma_foreign_key_check LIMIT 1");
            return version > 0 && verdict == "ok" && orphan is null
                ? new(path, version, Count(connection), new FileInfo(path).Length)
                : throw new StoreException(StoreFault.Corrupt, path, "the file is damaged.", "Use another backup.");
        }
        catch (SqliteException exception)
        {
            throw StoreException.From(exception, path);
        }
    }

    /// <summary>Puts a verified backup in the place of the data file, which nobody may have open. The old file is kept beside it.</summary>
    public static BackupReport Restore(string backup, string path)
    {
        var report = Verify(backup);
        return Replace(path, unfinished =>
        {
            File.Copy(report.Path, unfinished, overwrite: true);
            var copied = Verify(unfinished);
            SetAside(path);
            return copied with { Path = path };
        });
    }

    private static BackupReport Replace(string target, Func<string, BackupReport> make)
    {
        if (!Directory.Exists(Path.GetDirectoryName(target)))
        {
            throw new StoreException(StoreFault.Missing, target, "there is no such folder.", "Create it, or name another one.");
        }

        var unfinished = target + ".unfinished";
        try
        {
            // A folder that may not be written shows here, where it is known which; the database only says that it cannot open a file.
            File.Create(unfinished).Dispose();
            var report = make(unfinished);
            FlushToDisk(unfinished);
            File.Move(unfinished, target, overwrite: true);
            return report;
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            throw new StoreException(StoreFault.Disk, target, $"the file could not be written ({exception.Message.TrimEnd('.')}).",
                "Let this user write there, or name another folder.", exception);
        }
        finally
        {
            Sweep(unfinished);
        }
    }

    private static StoreCounts Copy(Database source, string unfinished) => source.Read(reader =>
    {
        // The count fixes the state of the file that is then copied, so the two must agree.
        var counts = Count(reader);
        using var copy = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = unfinished, Pooling = false }.ToString());
        copy.Open();
        try
        {
            PageSums.LayAs(reader, copy);
            reader.BackupDatabase(copy);
            copy.Execute("PRAGMA journal_mode = DELETE");
        }
        catch (SqliteException exception) when (exception.SqliteErrorCode is SQLitePCL.raw.SQLITE_FULL or SQLitePCL.raw.SQLITE_READONLY)
        {
            // Only the copy is written.
            throw StoreException.From(exception, unfinished);
        }

        return counts;
    });

    private static StoreCounts Count(SqliteConnection connection) =>
        new(Count(connection, "reading"), Count(connection, "rolled"), Count(connection, "batch"), Count(connection, "lot"));

    // A file of an older version lacks the tables that came later.
    private static long Count(SqliteConnection connection, string table) =>
        connection.Whole("SELECT count(*) FROM sqlite_schema WHERE name = ?1", table) == 0 ? 0
            : connection.Whole($"SELECT count(*) FROM {table}");

    /// <summary>Moves the present file away; a damaged one goes together with its log.</summary>
    private static void SetAside(string path)
    {
        if (!File.Exists(path))
        {
            return;
        }

        Close(path);
        File.Delete(WalMark.FileOf(path));
        foreach (var suffix in (string[])["", "-wal", "-shm"])
        {
            File.Delete(path + ".replaced" + suffix);
            if (File.Exists(path + suffix))
            {
                File.Move(path + suffix, path + ".replaced" + suffix);
            }
        }
    }

    /// <summary>Takes the log into the file, and finds out whether anybody else has it open.</summary>
    private static void Close(string path)
    {
        try
        {
            // Leaving the log mode takes the log into the file, and is refused while anybody else has the file open.
            using var connection = Connections.Open(path, new() { Patience = TimeSpan.FromSeconds(1) }, readOnly: false);
            connection.Text("PRAGMA journal_mode = DELETE");
        }
        catch (SqliteException exception) when (StoreException.From(exception, path) is { Fault: StoreFault.Locked })
        {
            throw new StoreException(StoreFault.Locked, path, "the file is in use.", "Stop the service, then restore.", exception);
        }
        catch (Exception exception) when (exception is SqliteException or StoreException)
        {
            // It is beyond opening, which may be why somebody restores.
        }
    }

    private static void FlushToDisk(string path)
    {
        using var handle = File.OpenHandle(path, FileMode.Open, FileAccess.ReadWrite);
        RandomAccess.FlushToDisk(handle);
    }

    private static void Sweep(string unfinished)
    {
        foreach (var suffix in (string[])["", "-wal", "-shm", "-journal"])
        {
            if (File.Exists(unfinished + suffix))
            {
                File.Delete(unfinished + suffix);
            }
        }
    }
}
