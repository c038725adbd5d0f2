using Chamber.Core;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Storage.Facts;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage;

/// <summary>
/// The record of all that was written down, in the data file. Entries are added and never changed. Whoever adds is judged by what is
/// known at the number before, so two who write at once are folded one after the other.
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

    /// <summary>The home's own crops alone, for which the rest need not be read.</summary>
    public IReadOnlyList<(CropId Crop, string Json)> OwnCrops() => database.Read(Snapshot.Crops);

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
        if (!AreNext(connection, entries))
        {
            return false;
        }

        if (entries.Count > 0)
        {
            Add(connection, Judge(connection, [.. entries.Select(FactJson.AsKept)]));
        }

        return true;
    });

    /// <summary>The same of entries that are as they are kept, and were judged by what was known at the number before the first.</summary>
    internal bool TryAppend(IReadOnlyList<JudgedFacts> judged) => Judged(connection =>
    {
        if (!AreNext(connection, [.. judged.SelectMany(act => act.Entries)]))
        {
            return false;
        }

        foreach (var act in judged)
        {
            Add(connection, act);
        }

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

    private static bool AreNext(SqliteConnection connection, IReadOnlyList<FactEntry> entries)
    {
        var expected = FactRows.Last(connection) + 1;
        return entries.Index().All(one => one.Item.Number == expected + one.Index);
    }

    private void Add(SqliteConnection connection, JudgedFacts act)
    {
        foreach (var entry in act.Entries)
        {
            FactRows.Insert(connection, entry);
        }

        if (act.LeftOut is { } leftOut)
        {
            FactRows.NoteLeftOut(connection, leftOut);
        }

        Snapshot.Write(connection, database.LeftOut, act.Before, act.After);
        known = new(act.Entries[^1].Number, act.After);
    }

    private JudgedFacts Judge(SqliteConnection connection, List<FactEntry> entries)
    {
        if (entries.Exists(Amends))
        {
            // What was said earlier is other now, so all that followed is judged again.
            var log = FactLog.Of(FactRows.Since(connection, 0));
            var next = log.With(entries);
            return new(entries, log.Home, next.Home, next.LeftOut);
        }

        var before = Known(connection).Home;
        return new(entries, before, before.Apply(entries.Select(entry => entry.Fact.At(entry.At))), null);
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
}
