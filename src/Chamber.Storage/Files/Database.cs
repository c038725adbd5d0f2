using System.Collections.Concurrent;
using System.Diagnostics;
using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace Chamber.Storage.Files;

/// <summary>
/// One file with one writing connection, behind a lock, and as many reading connections as are in use at once.
/// A reader sees the state of its first read and is never held up by the writer.
/// </summary>
internal sealed class Database : IDisposable
{
    // Each keeps its own pages; more than this are in use at once only for moments.
    private const int IdleReadersMax = 3;

    // While others get on a writer waits so many times its patience at most.
    private const int TurnsMax = 12;

    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(20);

    private readonly Lock gate = new();
    private readonly ConcurrentBag<SqliteConnection> idleReaders = [];
    private readonly SqliteConnection writer;
    private readonly WalMark? mark;
    private readonly StoreOptions options;
    private volatile bool disposed;
    private volatile StoreException? damage;
    private long commits;
    private long ledgerCommits;

    /// <param name="path">The file.</param>
    /// <param name="options">How it is opened.</param>
    public Database(string path, StoreOptions options)
    {
        Path = path;
        this.options = options;
        writer = Connections.Open(path, options, options.ReadOnly);
        mark = options.ReadOnly ? null : new(path, writer);
    }

    public string Path { get; }

    public StoreOptions Options => options;

    /// <summary>How often this process has committed to the file.</summary>
    public long Commits => Interlocked.Read(ref commits);

    /// <summary>How often this process has committed to the ledger.</summary>
    public long LedgerCommits => Interlocked.Read(ref ledgerCommits);

    /// <summary>What this process found beyond bounds in the file.</summary>
    public LeftOut LeftOut { get; } = new();

    /// <summary>The first thing that this process found damaged in the file; null when it found nothing so far.</summary>
    public StoreException? Damage => damage;

    /// <summary>Runs <paramref name="work"/> in one transaction: all of it is committed when it returns, none of it when it
    /// throws.</summary>
    public T Write<T>(Func<SqliteConnection, T> work)
    {
        lock (gate)
        {
            ObjectDisposedException.ThrowIf(disposed, this);
            RefuseWhenReadOnly();
            try
            {
                BeginWriting();
                var result = work(writer);
                writer.Execute("COMMIT");
                mark?.Committed();
                Interlocked.Increment(ref commits);
                return result;
            }
            catch (SqliteException exception)
            {
                RollBack();
                throw Noted(StoreException.From(exception, Path));
            }
            catch
            {
                RollBack();
                throw;
            }
        }
    }

    public void Write(Action<SqliteConnection> work) => Write(connection =>
    {
        work(connection);
        return true;
    });

    /// <summary>A transaction of the ledger: what somebody recorded is flushed to the disk, whatever was chosen for readings.</summary>
    public T WriteDown<T>(Func<SqliteConnection, T> work)
    {
        lock (gate)
        {
            var lax = options is { Readings: Durability.ProcessEnd, ReadOnly: false };
            Synchronous(lax, "FULL");
            try
            {
                var result = Write(work);
                Interlocked.Increment(ref ledgerCommits);
                return result;
            }
            finally
            {
                Synchronous(lax, "NORMAL");
            }
        }
    }

    public void WriteDown(Action<SqliteConnection> work) => WriteDown(connection =>
    {
        work(connection);
        return true;
    });

    /// <summary>Runs something on the writing connection that cannot be in a transaction.</summary>
    public T Alone<T>(Func<SqliteConnection, T> work)
    {
        lock (gate)
        {
            ObjectDisposedException.ThrowIf(disposed, this);
            try
            {
                return work(writer);
            }
            catch (SqliteException exception)
            {
                throw Noted(StoreException.From(exception, Path));
            }
        }
    }

    /// <summary>Runs <paramref name="work"/> on one unchanging state of the file.</summary>
    public T Read<T>(Func<SqliteConnection, T> work)
    {
        var reader = Rent();
        try
        {
            reader.Execute("BEGIN");
            return work(reader);
        }
        catch (Exception exception) when (Explain(exception) is { } problem)
        {
            throw problem;
        }
        finally
        {
            Return(reader);
        }
    }

    /// <summary>
    /// What an exception says of the file while it is only read: whatever a row cannot be turned into was never written by Chamber. Null
    /// when it is about something else. Damage is remembered.
    /// </summary>
    public StoreException? Explain(Exception exception) => exception switch
    {
        SqliteException database => Noted(StoreException.From(database, Path)),
        ArgumentException or FormatException or OverflowException or InvalidCastException => Noted(StoreException.Damaged(Path, exception)),
        _ => null,
    };

    /// <summary>Remembers damage, since whoever met it may be the only one for weeks who reads that page.</summary>
    public StoreException Noted(StoreException problem)
    {
        if (problem.IsDamage)
        {
            damage ??= problem;
        }

        return problem;
    }

    /// <summary>A reading connection for as long as somebody needs it; give it back with <see cref="Return"/>.</summary>
    public SqliteConnection Rent()
    {
        ObjectDisposedException.ThrowIf(disposed, this);
        return idleReaders.TryTake(out var reader) ? reader : Connections.Open(Path, options, readOnly: true);
    }

    public void Return(SqliteConnection reader)
    {
        if (!Connections.TryRollBack(reader) || disposed || idleReaders.Count >= IdleReadersMax)
        {
            reader.Dispose();
            return;
        }

        idleReaders.Add(reader);
    }

    public void Dispose()
    {
        lock (gate)
        {
            disposed = true;
            while (idleReaders.TryTake(out var reader))
            {
                reader.Dispose();
            }

            writer.Dispose();
            mark?.Dispose();
        }
    }

    // A neighbour that commits again and again leaves only moments in between. Long pauses miss them, so the pauses begin again from short
    // ones; and as long as others get on nobody keeps the file locked.
    private void BeginWriting()
    {
        var (begun, since, seen) = (Stopwatch.GetTimestamp(), Stopwatch.GetTimestamp(), 0L);
        Connections.Wait(writer, Pause);
        try
        {
            int result;
            while (IsBusy(result = raw.sqlite3_exec(writer.Handle, "BEGIN IMMEDIATE")))
            {
                var version = writer.Whole("PRAGMA data_version");
                (since, seen) = version == seen ? (since, seen) : (Stopwatch.GetTimestamp(), version);
                if (Stopwatch.GetElapsedTime(since) > options.Patience || Stopwatch.GetElapsedTime(begun) > TurnsMax * options.Patience)
                {
                    break;
                }
            }

            SqliteException.ThrowExceptionForRC(result, writer.Handle);
        }
        finally
        {
            Connections.Wait(writer, options.Patience);
        }
    }

    private static bool IsBusy(int result) => (result & 0xff) == raw.SQLITE_BUSY;

    private void Synchronous(bool lax, string level)
    {
        if (lax)
        {
            Alone(connection => connection.Execute($"PRAGMA synchronous = {level}"));
        }
    }

    private void RollBack() => Connections.TryRollBack(writer);

    private void RefuseWhenReadOnly()
    {
        if (options.ReadOnly)
        {
            throw new StoreException(StoreFault.ReadOnly, Path, "the file was opened for reading only.", "Open it for writing.");
        }
    }
}
