using Chamber.Core;
using Chamber.Core.Facts;
using Chamber.Storage.Facts;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage;

/// <summary>
/// The record of all that was written down, in the data file. Entries are added and never changed. Whoever adds is judged by what is
/// known at that moment, so two who write at once are folded one after the other.
/// </summary>
public sealed class FactBook
{
    private readonly Database database;

    // What was last read or written, so that the next who asks or writes need not read it again while nobody else has written.
    private volatile KnownHome? known;
    private long asked;

    internal FactBook(Database database) => this.database = database;

    /// <summary>The number of the newest entry; 0 when nothing was written down.</summary>
    public long Last => database.Read(FactRows.Last);

    /// <summary>Entries with a higher number than one, in order.</summary>
    public IReadOnlyList<FactEntry> Since(long number) => database.Read(connection => FactRows.Since(connection, number));

    /// <summary>All that is written down, folded from the first entry on.</summary>
    public FactLog Log() => FactLog.Of(Since(0));

    /// <summary>What the facts come to, as the tables have it.</summary>
    public HomeState Home() => Known().Home;

    /// <summary>The same, read again whatever was read before.</summary>
    internal HomeState Read() => database.Read(connection => Snapshot.Load(connection, database.LeftOut));

    /// <summary>The same with the number of the newest entry.</summary>
    public KnownHome Known()
    {
        Interlocked.Increment(ref asked);
        return database.Read(Known);
    }

    /// <summary>How often somebody has asked what the facts come to since the file was opened.</summary>
    public long TimesRead => Interlocked.Read(ref asked);

    /// <summary>What the tables have otherwise than the facts come to, as when somebody has edited the file: nothing, in all ordinary
    /// times.</summary>
    public IReadOnlyList<FactSubject> TableDifferences() => database.Read(connection =>
        FactLog.Of(FactRows.Since(connection, 0)).Home.ToParts().DifferencesFrom(Snapshot.Load(connection, database.LeftOut).ToParts()));

    /// <summary>Writes the tables again from the facts, where they differ.</summary>
    /// <returns>What was otherwise.</returns>
    public IReadOnlyList<FactSubject> RebuildTables()
    {
        if (TableDifferences().Count == 0)
        {
            return [];
        }

        return Judged(connection =>
        {
            var (log, tables) = (FactLog.Of(FactRows.Since(connection, 0)), Snapshot.Load(connection, database.LeftOut));
            FactRows.NoteLeftOut(connection, log.LeftOut);
            connection.Execute("PRAGMA defer_foreign_keys = ON");
            Snapshot.WriteTables(connection, database.LeftOut, tables, log.Home);
            known = new(log.Last, log.Home);
            return log.Home.ToParts().DifferencesFrom(tables.ToParts());
        });
    }

    /// <summary>Takes over all entries of another home, with their numbers, authors and times. Nothing may be written down here
    /// yet.</summary>
    /// <param name="entries">All of them, in order of number.</param>
    /// <returns>The home that they make, and what of it counts for nothing.</returns>
    /// <exception cref="RefusedException">Something is written down here already, or the entries are not whole; nothing was
    /// written.</exception>
    public FactLog TakeOver(IReadOnlyList<FactEntry> entries) => database.WriteDown(connection =>
    {
        ArgumentNullException.ThrowIfNull(entries);
        LedgerRefusedException.When(FactRows.Last(connection) > 0, "Something is written down in this home already.");
        LedgerRefusedException.When(
            entries.Index().Any(one => one.Item.Number != one.Index + 1), "The entries are not whole: their numbers do not run from 1 on.");
        var log = FactLog.Of(entries);
        foreach (var entry in entries)
        {
            FactRows.Insert(connection, entry);
        }

        FactRows.NoteLeftOut(connection, log.LeftOut);
        Snapshot.Write(connection, database.LeftOut, HomeState.Empty, log.Home);
        return log;
    });

    /// <summary>Adds entries as they are, if nobody has written since: the first has the number that is expected next.</summary>
    /// <returns>Whether they were added.</returns>
    /// <exception cref="RefusedException">One of them cannot be true beside what is known; nothing was written.</exception>
    internal bool TryAppend(IReadOnlyList<FactEntry> entries) => Judged(connection =>
    {
        var expected = FactRows.Last(connection) + 1;
        if (entries.Index().Any(one => one.Item.Number != expected + one.Index))
        {
            return false;
        }

        Append(connection, [.. entries.Select(FactJson.AsKept)]);
        return true;
    });

    private T Judged<T>(Func<SqliteConnection, T> write)
    {
        try
        {
            return database.WriteDown(write);
        }
        catch
        {
            known = null;
            throw;
        }
    }

    private void Append(SqliteConnection connection, List<FactEntry> entries)
    {
        if (entries.Count == 0)
        {
            return;
        }

        var (before, after) = entries.Exists(Amends) ? Amended(connection, entries) : Added(connection, entries);
        entries.ForEach(entry => FactRows.Insert(connection, entry));
        Snapshot.Write(connection, database.LeftOut, before, after);
        known = new(entries[^1].Number, after);
    }

    private (HomeState Before, HomeState After) Added(SqliteConnection connection, List<FactEntry> entries)
    {
        var before = Known(connection).Home;
        return (before, before.Apply(entries.Select(entry => entry.Fact.At(entry.At))));
    }

    private KnownHome Known(SqliteConnection connection)
    {
        var last = FactRows.Last(connection);
        return known is { } kept && kept.Number == last ? kept
            : known = new(last, Later(connection) ?? Snapshot.Load(connection, database.LeftOut));
    }

    // From what was known, where others have only added to it.
    private HomeState? Later(SqliteConnection connection)
    {
        try
        {
            return known is { } kept && FactRows.Since(connection, kept.Number) is { Count: > 0 } added && !added.Exists(Amends)
                ? kept.Home.Apply(added.Select(entry => entry.Fact.At(entry.At))) : null;
        }
        catch (RefusedException)
        {
            return null;
        }
    }

    private static bool Amends(FactEntry entry) => entry.Fact is Withdrawn or Corrected;

    // What was said earlier is other now, so all that followed is judged again.
    private static (HomeState Before, HomeState After) Amended(SqliteConnection connection, List<FactEntry> entries)
    {
        var log = FactLog.Of(FactRows.Since(connection, 0));
        var next = log.With(entries);
        FactRows.NoteLeftOut(connection, next.LeftOut);
        return (log.Home, next.Home);
    }
}
