using Chamber.Core.Facts;
using Chamber.Storage.Facts;
using Chamber.Storage.Files;
using Chamber.Storage.Writing;
using NodaTime;

namespace Chamber.Storage;

/// <summary>
/// The one data file: the journal of readings and the ledger of everything the grower records.
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
        Facts = new(database);
        Home = new HomeStore(Facts, Journal);
        var alerts = new AlertLedger(database);
        Records = new HomeRecords(alerts, Journal, () => LedgerCommits);
        var pen = new HomePen(Home, Records, Author.Program, () => Instant.FromDateTimeOffset(database.Options.Clock.GetUtcNow()));
        Ledger = new(database, pen, alerts);
    }

    /// <summary>Readings and refusals.</summary>
    public Journal Journal { get; }

    /// <summary>All that was written down, and the door through which anything is.</summary>
    public FactBook Facts { get; }

    /// <summary>The seam: facts and readings alone, as any store has them.</summary>
    public IHomeStore Home { get; }

    /// <summary>What is kept beside facts and readings.</summary>
    public IHomeRecords Records { get; }

    /// <summary>What is kept beside them, and the pens with which they are written.</summary>
    public Ledger Ledger { get; }

    /// <summary>The file.</summary>
    public string Path => database.Path;

    /// <summary>
    /// What this process has found damaged in the file since it opened it, in one sentence with the fix; null when nothing. Pages that
    /// nobody has read can be damaged all the same: <see cref="Verify"/> reads them all.
    /// </summary>
    public string? Damage => database.Damage?.Message;

    /// <summary>What this process has met in the file that lies beyond bounds and so counts for nothing: a sentence each, with the
    /// fix.</summary>
    public IReadOnlyList<string> LeftOut => database.LeftOut.All;

    /// <summary>Something in the file is no use to whoever knows its meaning: it is reported with the rest.</summary>
    /// <param name="name">What it is, for the beginning of a sentence: "Crop leek".</param>
    /// <param name="why">Why, with the fix: a sentence.</param>
    public void LeaveOut(string name, string why) => database.LeftOut.Keeps(why, () => name);

    /// <summary>Reads everything that people recorded, to say what of it lies beyond bounds.</summary>
    public IReadOnlyList<string> FindLeftOut()
    {
        Facts.Read();
        Ledger.Alerts.Outages();
        return LeftOut;
    }

    /// <summary>The same, and reads all readings too, which takes a second for each million.</summary>
    public IReadOnlyList<string> FindAllLeftOut()
    {
        foreach (var probe in Journal.Probes())
        {
            _ = Journal.Read(probe, new(null, null)).Count();
        }

        _ = Journal.LastKnown();

        return FindLeftOut();
    }

    /// <summary>
    /// A number that changes whenever anybody but this store has committed to the file. Reading it costs microseconds.
    /// </summary>
    public long DataVersion => database.Alone(connection => connection.Whole("PRAGMA data_version"));

    /// <summary>How often this store has committed, readings included. With <see cref="DataVersion"/> it tells whether anything in the file
    /// is new.</summary>
    public long Commits => database.Commits;

    /// <summary>How often this store has committed to the ledger.</summary>
    public long LedgerCommits => database.LedgerCommits;

    /// <summary>Opens the file, creates it where there is none, and brings an older one up to date.</summary>
    /// <exception cref="StoreException">The file cannot be used; the message says why and the fix.</exception>
    public static ChamberStore Open(string path, StoreOptions? options = null)
    {
        options ??= new();
        path = System.IO.Path.GetFullPath(path);
        Present(path, options);
        var lost = options.ReadOnly ? null : WalTail.Look(path);
        var database = new Database(path, options);
        if (lost is not null)
        {
            database.Noted(lost);
        }

        try
        {
            Schema.Upgrade(database, RowsToFacts.LastWithout, RowsToFacts.Run);
            database.Read(connection => FactRows.TellLeftOut(connection, database.LeftOut));
            return new(database);
        }
        catch
        {
            database.Dispose();
            throw;
        }
    }

    /// <summary>Copies everything to another file while it is in use, and reads the copy through before it gets its name.</summary>
    /// <exception cref="StoreException">There is no new backup; an older one of that name is as it was.</exception>
    public BackupReport BackUp(string target) => Backup.Write(database, System.IO.Path.GetFullPath(target));

    /// <summary>Reads a data file or a backup through.</summary>
    /// <exception cref="StoreException">It is damaged, or not a data file of Chamber; the message says which.</exception>
    public static BackupReport Verify(string path) => Backup.Verify(System.IO.Path.GetFullPath(path));

    /// <summary>
    /// Puts a backup in the place of the data file, once it has been read through. Nobody may have the data file open;
    /// it is kept beside the new one under the name <c>.replaced</c>.
    /// </summary>
    /// <exception cref="StoreException">The data file is as it was.</exception>
    public static BackupReport Restore(string backup, string path) =>
        Backup.Restore(System.IO.Path.GetFullPath(backup), System.IO.Path.GetFullPath(path));

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
            throw new StoreException(StoreFault.Missing, path, "there is no such file or folder.",
                "Create the folder, or name another one.");
        }
    }
}
