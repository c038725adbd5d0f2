using Chamber.Core;
using Chamber.Core.Facts;
using Chamber.Storage.Facts;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage;

/// <summary>
/// The one door through which anything is written down, and the record of all that was. Entries are added and never changed. Whoever
/// adds is judged by what is known at that moment, so two who write at once are folded one after the other.
/// </summary>
public sealed class FactBook
{
    private readonly Database database;
    
    // What was last read or written, so that the next who asks or writes need not read it again while nobody else has written.
    private volatile KnownHome? known;

    internal FactBook(Database database) => this.database = database;

    /// <summary>The number of the newest entry; 0 when nothing was written down.</summary>
    public long Last => database.Read(FactRows.Last);

    /// <summary>Entries with a higher number than one, in order.</summary>
    public IReadOnlyList<FactEntry> Since(long number) => database.Read(connection => FactRows.Since(connection, number));

    /// <summary>All that is written down, folded from the first entry on.</summary>
    public FactLog Log() => FactLog.Of(Since(0));

    /// <summary>What the facts come to, as the tables have it.</summary>
    public HomeState Home() => Known().Home;

    /// <summary>The same with the number of the newest entry.</summary>
    public KnownHome Known() => database.Read(connection =>
    {
        var last = FactRows.Last(connection);
        return known is { } kept && kept.Number == last ? kept : known = new(last, Snapshot.Load(connection, database.LeftOut));
    });

    /// <summary>Writes facts down in one act: all of them, or none.</summary>
    /// <param name="by">Who writes, and by which way.</param>
    /// <param name="now">When.</param>
    /// <param name="facts">What, in an order in which each can stand after the one before. None writes nothing.</param>
    /// <returns>The entries.</returns>
    /// <exception cref="RefusedException">One of them cannot be true beside what is known; nothing was written.</exception>
    public IReadOnlyList<FactEntry> Append(Author by, Instant now, params IReadOnlyList<DatedFact> facts) =>
        Append(by, now, _ => facts);

    /// <summary>Writes down what follows from all that was written down before, in one transaction with reading it.</summary>
    /// <param name="by">Who writes, and by which way.</param>
    /// <param name="now">When.</param>
    /// <param name="amend">From the record to the amendments of it.</param>
    public IReadOnlyList<FactEntry> Amend(Author by, Instant now, Func<FactLog, IReadOnlyList<DatedFact>> amend) =>
        Append(by, now, connection => amend(FactLog.Of(FactRows.Since(connection, 0))));

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

    private List<FactEntry> Append(Author by, Instant now, Func<SqliteConnection, IReadOnlyList<DatedFact>> ask) => Judged(connection =>
    {
        var (facts, first) = (ask(connection), FactRows.Last(connection) + 1);
        return Append(connection, [.. facts.Select((fact, i) => FactJson.AsKept(new(first + i, first, fact.Fact, fact.At, now, by)))]);
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

    private List<FactEntry> Append(SqliteConnection connection, List<FactEntry> entries)
    {
        if (entries.Count == 0)
        {
            return [];
        }

        var last = entries[0].Number - 1;
        var (before, after) = entries.Exists(entry => entry.Fact is Withdrawn or Corrected)
            ? Amended(connection, entries)
            : Added(connection, last, entries);
        entries.ForEach(entry => FactRows.Insert(connection, entry));
        Snapshot.Write(connection, database.LeftOut, before, after);
        known = new(entries[^1].Number, after);
        return entries;
    }

    private (HomeState Before, HomeState After) Added(SqliteConnection connection, long last, List<FactEntry> entries)
    {
        var before = known is { } kept && kept.Number == last ? kept.Home : Snapshot.Load(connection, database.LeftOut);
        return (before, entries.Aggregate(before, (home, entry) => home.Apply(entry.Fact.At(entry.At))));
    }

    // What was said earlier is other now, so all that followed is judged again.
    private static (HomeState Before, HomeState After) Amended(SqliteConnection connection, List<FactEntry> entries)
    {
        var log = FactLog.Of(FactRows.Since(connection, 0));
        var next = log.With(entries);
        FactRows.NoteLeftOut(connection, next.LeftOut);
        return (log.Home, next.Home);
    }
}
