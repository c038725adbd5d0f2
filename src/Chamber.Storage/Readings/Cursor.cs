using Chamber.Storage.Files;
using Chamber.Storage.Hot;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Readings;

/// <summary>How the two kinds of rows become items: a row of readings is one; a row of rolled-up readings is two, its first and its last.</summary>
internal sealed record RowReader<T>(string ReadingSql, Func<Statement, T> FromReading, string RolledSql, Func<Statement, bool, T> FromRolled);

/// <summary>Walks through the readings of one probe in order of time, readings and rolled-up stretches merged, on one state of the file.</summary>
internal sealed class Cursor<T> : IDisposable
{
    private readonly Database database;
    private readonly SqliteConnection connection;
    private readonly RowReader<T> rows;
    private readonly (long First, long End) range;
    private Statement? reading;
    private Statement? rolled;
    private bool hasReading;
    private bool hasRolled;
    private bool atLast;

    public Cursor(Database database, SqliteConnection connection, long probe, Interval interval, RowReader<T> rows)
    {
        this.database = database;
        this.connection = connection;
        this.rows = rows;
        range = Range(interval);
        reading = Start(rows.ReadingSql, probe);
        hasReading = reading.Next();
        rolled = Start(rows.RolledSql, probe);
        hasRolled = rolled.Next();
        SkipOutside();
    }

    /// <summary>Fills the buffer as far as there is something.</summary>
    public int Fill(T[] buffer)
    {
        try
        {
            var count = 0;
            while (count < buffer.Length && (hasReading || hasRolled))
            {
                buffer[count++] = Next();
            }

            return count;
        }
        catch (SqliteException exception)
        {
            throw StoreException.From(exception, database.Path);
        }
    }

    /// <summary>From inclusive, to exclusive, in ms; rounded up, as the millisecond of a reading is rounded down.</summary>
    public static (long First, long End) Range(Interval interval) =>
        (interval.HasStart ? Ceiling(interval.Start) : long.MinValue, interval.HasEnd ? Ceiling(interval.End) : long.MaxValue);

    public void Dispose()
    {
        reading?.Dispose();
        rolled?.Dispose();
        reading = rolled = null;
        database.Return(connection);
    }

    private static long Ceiling(Instant at) =>
        at.ToUnixTimeMilliseconds() is var floor && Instant.FromUnixTimeMilliseconds(floor) < at ? floor + 1 : floor;

    private long RolledAt => rolled!.Whole(0) + (atLast ? rolled.Whole(1) : 0);

    private Statement Start(string sql, long probe)
    {
        var statement = new Statement(connection, sql);
        statement.Bind(1, probe);
        statement.Bind(2, range.First);
        statement.Bind(3, range.End);
        return statement;
    }

    private T Next()
    {
        T item;
        if (hasRolled && (!hasReading || RolledAt <= reading!.Whole(0)))
        {
            item = rows.FromRolled(rolled!, atLast);
            Advance();
            SkipOutside();
        }
        else
        {
            item = rows.FromReading(reading!);
            hasReading = reading!.Next();
        }

        return item;
    }

    private void SkipOutside()
    {
        while (hasRolled && (RolledAt < range.First || RolledAt >= range.End))
        {
            Advance();
        }
    }

    private void Advance()
    {
        if (!atLast && rolled!.Whole(1) > 0)
        {
            atLast = true;
            return;
        }

        atLast = false;
        hasRolled = rolled!.Next();
    }
}
