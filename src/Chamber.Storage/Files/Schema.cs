using System.Globalization;
using System.Reflection;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Files;

/// <summary>The numbered migrations, embedded beside this class, and the two numbers in the file's header that say whose it is and how far
/// it has come.</summary>
internal static class Schema
{
    /// <summary>"CHMB": shown by <c>file</c> and by every tool that reads the header.</summary>
    public const int ApplicationId = 0x43484D42;

    private static readonly string[] Migrations =
        [.. typeof(Schema).Assembly.GetManifestResourceNames().Where(name => name.EndsWith(".sql", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal)];

    public static int Newest => Migrations.Length;

    /// <summary>Brings the file to the newest version, or says why not.</summary>
    /// <param name="database">The file.</param>
    /// <param name="lastWithout">Files up to this version need more than statements.</param>
    /// <param name="convert">What they need, in the same transaction.</param>
    public static void Upgrade(Database database, int lastWithout, Action<SqliteConnection> convert)
    {
        var version = database.Alone(connection => Check(connection, database.Path));
        if (version == Newest)
        {
            KeepLog(database);
            return;
        }

        if (database.Options.ReadOnly)
        {
            throw new StoreException(StoreFault.ReadOnly, database.Path, "the file is of an older version and was opened for reading only.",
                "Start the service once, so that it brings the file up to date.");
        }

        database.Alone(connection => version == 0 ? Lay(connection) : 0);
        KeepLog(database);
        if (version > 0)
        {
            Backup.Write(database, string.Create(CultureInfo.InvariantCulture, $"{database.Path}.version-{version}"));
        }

        database.Write(connection =>
        {
            // Another process may have done it meanwhile.
            var from = Check(connection, database.Path);
            for (var next = from; next < Newest; next++)
            {
                connection.Execute(Text(Migrations[next]));
            }

            if (from > 1 && from <= lastWithout)
            {
                convert(connection);
            }

            connection.Execute(
                string.Create(CultureInfo.InvariantCulture, $"PRAGMA application_id = {ApplicationId}; PRAGMA user_version = {Newest}"));
        });
    }

    /// <summary>The version of the file; 0 for a new one.</summary>
    public static int Check(SqliteConnection connection, string path)
    {
        var application = connection.Whole("PRAGMA application_id");
        var version = (int)connection.Whole("PRAGMA user_version");
        if (application != ApplicationId && (application != 0 || connection.Whole("SELECT count(*) FROM sqlite_schema") > 0))
        {
            throw new StoreException(StoreFault.NotOurs, path, "the file is a database of another program.",
                "Name another data directory.");
        }

        return version <= Newest
            ? version
            : throw new StoreException(StoreFault.NewerVersion, path,
                $"a newer Chamber wrote this file (version {version}; this one knows {Newest}).",
                "Start the newer Chamber, or restore the copy that it made beside the file before its first start.");
    }

    // Can only be chosen before the first table exists, and not in a transaction.
    private static int Lay(SqliteConnection connection)
    {
        PageSums.Lay(connection);
        return connection.Execute("PRAGMA auto_vacuum = INCREMENTAL");
    }

    // A file that comes from a backup has no log yet. Only now is it known to be ours.
    private static void KeepLog(Database database)
    {
        if (!database.Options.ReadOnly)
        {
            var mode = database.Alone(connection => connection.Text("PRAGMA journal_mode = WAL"));
            if (mode != "wal")
            {
                throw new StoreException(StoreFault.Disk, database.Path, "this file system cannot share a file between processes.",
                    "Put the data directory on a local disk.");
            }
        }
    }

    private static string Text(string resource)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(resource)!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
