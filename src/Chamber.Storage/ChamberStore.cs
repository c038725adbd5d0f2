using Chamber.Storage.Files;

namespace Chamber.Storage;

/// <summary>
/// The one data file: the journal of readings and the ledger of everything the grower writes down.
/// Several processes may have it open at once. All methods are synchronous, may be called from any thread,
/// and throw <see cref="StoreException"/> when the file fails them.
/// </summary>
public sealed class ChamberStore : IDisposable
{
    private readonly Database database;

    private ChamberStore(Database database)
    {
        this.database = database;
        Journal = new(database);
        Ledger = new(database);
    }

    /// <summary>Readings and refusals.</summary>
    public Journal Journal { get; }

    /// <summary>Spots, probes, lots, batches, alerts, settings.</summary>
    public Ledger Ledger { get; }

    /// <summary>The file.</summary>
    public string Path => database.Path;

    /// <summary>
    /// A number that changes whenever anybody but this store has committed to the file. Reading it costs microseconds.
    /// </summary>
    public long DataVersion => database.Alone(connection => connection.Whole("PRAGMA data_version"));

    /// <summary>Opens the file, creates it where there is none, and brings an older one up to date.</summary>
    /// <exception cref="StoreException">The file cannot be used; the message says why and the mend.</exception>
    public static ChamberStore Open(string path, StoreOptions? options = null)
    {
        options ??= new();
        path = System.IO.Path.GetFullPath(path);
        Present(path, options);
        var database = new Database(path, options);
        try
        {
            Schema.Upgrade(database);
            return new(database);
        }
        catch
        {
            database.Dispose();
            throw;
        }
    }

    public void Dispose()
    {
        Journal.Dispose();
        database.Dispose();
    }

    private static void Present(string path, StoreOptions options)
    {
        if (Directory.Exists(path))
        {
            throw new StoreException(StoreFault.NotADatabase, path, "this is a folder.", "Name a file in it.");
        }

        if (options.ReadOnly ? !File.Exists(path) : !Directory.Exists(System.IO.Path.GetDirectoryName(path)))
        {
            throw new StoreException(StoreFault.Missing, path, "there is no such file or folder.", "Create the folder, or name another one.");
        }
    }
}
