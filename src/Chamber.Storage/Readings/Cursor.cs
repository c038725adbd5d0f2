using Chamber.Storage.Files;
using Chamber.Storage.Hot;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Readings;

/// <summary>How the two kinds of rows become items. A row of readings is one; a rolled-up stretch is a few, all the same but for their
/// time.</summary>
/// <param name="ReadingSql">The readings of a probe in an interval.</param>
/// <param name="FromReading">An item of a row of them; null for one that holds nothing within bounds.</param>
/// <param name="RolledSql">The stretches.</param>
/// <param name="FromRolled">The same of a point of a stretch.</param>
/// <param name="Kept">What of it lies within bounds.</param>
internal sealed record RowReader<T>(string ReadingSql, Func<Statement, T?> FromReading, string RolledSql,
    Func<Statement, long, T?> FromRolled, KeptQuantities Kept)
    where T : struct;

/// <summary>Walks through the readings of one probe in order of time, readings and rolled-up stretches merged, on one state of the
/// file.</summary>
internal sealed class Cursor<T> : IDisposable
    where T : struct
{
    private readonly Database database;
    private readonly SqliteConnection connection;
    private readonly RowReader<T> rows;
    private readonly (long First, long End) range;
    private readonly Statement reading;
    private readonly Statement rolled;
    private bool hasReading;
    private bool hasRolled;
    private int point;
    private long rolledAt;

    public Cursor(Database database, SqliteConnection connection, long probe, Interval interval, RowReader<T> rows)
    {
        this.database = database;
        this.connection = connection;
        this.rows = rows;
        range = Range(interval);
        reading = Start(rows.ReadingSql, probe);
        rolled = Start(rows.RolledSql, probe);
        hasReading = reading.Next();
        NextStretch();
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
                if ((hasRolled && (!hasReading || rolledAt <= reading.Whole(0)) ? TakeRolled() : TakeReading()) is { } item)
                {
                    buffer[count++] = item;
                }
            }

            return count;
        }
        catch (Exception exception) when (database.Explain(exception) is { } problem)
        {
            throw problem;
        }
    }

    public void Dispose()
    {
        reading.Dispose();
        rolled.Dispose();
        database.Return(connection);
    }

    /// <summary>From inclusive, to exclusive, in ms; rounded up, as the millisecond of a reading is rounded down.</summary>
    private static (long First, long End) Range(Interval interval) => (
        Math.Max(KeptQuantities.First, interval.HasStart ? Ceiling(interval.Start) : KeptQuantities.First),
        Math.Min(KeptQuantities.End, interval.HasEnd ? Ceiling(interval.End) : KeptQuantities.End));

    private static long Ceiling(Instant at) =>
        at.ToUnixTimeMilliseconds() is var floor && Instant.FromUnixTimeMilliseconds(floor) < at ? floor + 1 : floor;

    private Statement Start(string sql, long probe)
    {
        var statement = new Statement(connection, sql);
        statement.Bind(1, probe);
        statement.Bind(2, range.First);
        statement.Bind(3, range.End);
        return statement;
    }

    private T? TakeReading()
    {
        var item = rows.FromReading(reading);
        var before = reading.Whole(0);
        hasReading = reading.Next();
        if (hasReading)
        {
            RequireOrder(before, reading.Whole(0));
        }

        return item;
    }

    // The file keeps rows in order of time. Where one is not, a page was changed by something else, and who folds readings in order could
    // not go on.
    private void RequireOrder(long before, long at)
    {
        if (at <= before || at < range.First || at >= range.End)
        {
            throw new FormatException($"A reading of {at} ms lies after one of {before} ms, between {range.First} and {range.End}.");
        }
    }

    private T? TakeRolled()
    {
        var item = rows.FromRolled(rolled, rolledAt);
        NextPoint();
        SkipOutside();
        return item;
    }

    private void SkipOutside()
    {
        while (hasRolled && (rolledAt < range.First || rolledAt >= range.End))
        {
            NextPoint();
        }
    }

    private void NextPoint()
    {
        var (start, span) = (rolled.Whole(0), rolled.Whole(1));
        var steps = (int)((span + Stretch.StepMax - 1) / Stretch.StepMax);
        if (point == steps)
        {
            NextStretch();
            return;
        }

        point++;
        rolledAt = start + span * point / steps;
    }

    private void NextStretch()
    {
        point = 0;
        var before = hasRolled ? rolled.Whole(0) : long.MinValue;
        do
        {
            hasRolled = rolled.Next();
            rolledAt = hasRolled ? rolled.Whole(0) : 0;
            if (hasRolled && rolledAt <= before)
            {
                throw new FormatException($"A stretch of {rolledAt} ms lies after one of {before} ms.");
            }
        }
        while (hasRolled && !rows.Kept.Keeps(rolled.Whole(1), rolledAt));
    }
}
