using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace Chamber.Storage.Hot;

/// <summary>
/// A statement that is prepared once and run very often. A quantity is bound as a whole number of thousandths where that
/// says it exactly (three bytes in place of eight), else as a real number, and comes back as the very same double.
/// Lives as long as its connection at most. Not thread-safe.
/// </summary>
internal sealed class Statement : IDisposable
{
    private const double Thousand = 1000;

    private readonly sqlite3 connection;
    private readonly sqlite3_stmt statement;
    private readonly nint pointer;

    public Statement(SqliteConnection connection, string sql)
    {
        this.connection = connection.Handle!;
        var result = raw.sqlite3_prepare_v3(this.connection, sql, raw.SQLITE_PREPARE_PERSISTENT, out statement);
        SqliteException.ThrowExceptionForRC(result, this.connection);
        pointer = statement.DangerousGetHandle();
    }

    public void Bind(int index, long value) => Check(Native.BindWhole(pointer, index, value));

    public void Bind(int index, double? quantity) =>
        Check(quantity is { } value ? BindQuantity(index, value) : Native.BindNull(pointer, index));

    /// <summary>Moves to the next row. False when there is none, and the statement is ready to be bound and run again.</summary>
    public bool Next()
    {
        var result = Native.Step(pointer);
        if (result == raw.SQLITE_ROW)
        {
            return true;
        }

        var reset = Native.Reset(pointer);
        Check(result == raw.SQLITE_DONE ? reset : result);
        return false;
    }

    /// <summary>Runs a statement that gives no rows.</summary>
    /// <returns>Whether it changed anything.</returns>
    public bool Run()
    {
        Next();
        return Native.Changes(connection.DangerousGetHandle()) > 0;
    }

    /// <summary>Lets go of the row before the last one was read. The error of the step, if any, was thrown by the step.</summary>
    public void Reset() => _ = Native.Reset(pointer);

    public long Whole(int column) => Native.ColumnWhole(pointer, column);

    public bool IsNull(int column) => Native.ColumnType(pointer, column) == raw.SQLITE_NULL;

    public double? Quantity(int column) => Native.ColumnType(pointer, column) switch
    {
        raw.SQLITE_INTEGER => Native.ColumnWhole(pointer, column) / Thousand,
        raw.SQLITE_FLOAT => Native.ColumnReal(pointer, column),
        _ => null,
    };

    public void Dispose() => statement.Dispose();

    private int BindQuantity(int index, double value)
    {
        var thousandths = Math.Round(value * Thousand);
        return Math.Abs(thousandths) < int.MaxValue && thousandths / Thousand == value && !(value == 0 && double.IsNegative(value))
            ? Native.BindWhole(pointer, index, (long)thousandths)
            : Native.BindReal(pointer, index, value);
    }

    private void Check(int result)
    {
        if (result != raw.SQLITE_OK)
        {
            SqliteException.ThrowExceptionForRC(result, connection);
        }
    }
}
