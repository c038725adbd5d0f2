using System.Globalization;
using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace Chamber.Storage.Files;

/// <summary>Opens connections with the pragmas that docs/storage.md explains.</summary>
internal static class Connections
{
    // The store never uses a connection from two threads at once, so the library need not lock itself at each call, nor count
    // its memory: a tenth of the time of an append. Refused, without harm, once somebody else in the process has used the library.
    static Connections()
    {
        Batteries_V2.Init();
        _ = raw.sqlite3_config(raw.SQLITE_CONFIG_MULTITHREAD);
        _ = raw.sqlite3_config(raw.SQLITE_CONFIG_MEMSTATUS, 0);
        PageSums.Register();
    }

    public static SqliteConnection Open(string path, StoreOptions options, bool readOnly)
    {
        var text = new SqliteConnectionStringBuilder
        {
            DataSource = path,
            Mode = readOnly ? SqliteOpenMode.ReadOnly : SqliteOpenMode.ReadWriteCreate,
            Pooling = false,
            DefaultTimeout = Math.Max(1, (int)options.Patience.TotalSeconds),
        };
        var connection = new SqliteConnection(text.ToString());
        try
        {
            connection.Open();
            Prepare(connection, options, readOnly);
            return connection;
        }
        catch (SqliteException exception)
        {
            connection.Dispose();
            throw StoreException.From(exception, path);
        }
    }

    /// <summary>Ends whatever transaction is open. False when the connection is beyond use.</summary>
    public static bool TryRollBack(SqliteConnection connection) =>
        raw.sqlite3_get_autocommit(connection.Handle) != 0 || raw.sqlite3_exec(connection.Handle, "ROLLBACK") == raw.SQLITE_OK;

    /// <summary>For how long a statement of this connection waits for others.</summary>
    public static void Wait(SqliteConnection connection, TimeSpan patience) =>
        raw.sqlite3_busy_timeout(connection.Handle, (int)patience.TotalMilliseconds);

    private static void Prepare(SqliteConnection connection, StoreOptions options, bool readOnly)
    {
        Wait(connection, options.Patience);
        connection.Execute("PRAGMA foreign_keys = ON; PRAGMA trusted_schema = OFF; PRAGMA cell_size_check = ON; PRAGMA temp_store = "
            + $"MEMORY; PRAGMA cache_size = {(readOnly ? -4000 : -16000)}; PRAGMA mmap_size = 0");
        if (readOnly)
        {
            connection.Execute("PRAGMA query_only = ON");
            return;
        }

        var synchronous = options.Readings == Durability.PowerLoss ? "FULL" : "NORMAL";
        connection.Execute($"PRAGMA synchronous = {synchronous}; PRAGMA wal_autocheckpoint = 4000; PRAGMA journal_size_limit = 67108864");
        if (options.PagesMax is { } pages)
        {
            connection.Execute($"PRAGMA max_page_count = {pages.ToString(CultureInfo.InvariantCulture)}");
        }
    }
}
