using System.Globalization;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Files;

/// <summary>Short forms for the statements that are not in the hot path. Parameters are ?1, ?2, ... in order.</summary>
internal static class Commands
{
    public static int Execute(this SqliteConnection connection, string sql, params ReadOnlySpan<object?> values)
    {
        using var command = connection.Command(sql, values);
        return command.ExecuteNonQuery();
    }

    public static long Insert(this SqliteConnection connection, string sql, params ReadOnlySpan<object?> values)
    {
        connection.Execute(sql, values);
        return connection.Whole("SELECT last_insert_rowid()");
    }

    public static long Whole(this SqliteConnection connection, string sql, params ReadOnlySpan<object?> values)
    {
        using var command = connection.Command(sql, values);
        return command.ExecuteScalar() is long number ? number : 0;
    }

    public static string? Text(this SqliteConnection connection, string sql, params ReadOnlySpan<object?> values)
    {
        using var command = connection.Command(sql, values);
        return command.ExecuteScalar() is { } value and not DBNull ? Written(Convert.ToString(value, CultureInfo.InvariantCulture)) : null;
    }

    public static List<T> Rows<T>(this SqliteConnection connection, Func<SqliteDataReader, T> row, string sql,
        params ReadOnlySpan<object?> values)
    {
        using var command = connection.Command(sql, values);
        using var reader = command.ExecuteReader();
        var rows = new List<T>();
        while (reader.Read())
        {
            rows.Add(row(reader));
        }

        return rows;
    }

    public static string? Text(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : Written(row.GetString(column));

    /// <summary>A count beyond what fits is taken as the largest there is, for whoever asks for bounds to leave it out.</summary>
    public static int Count(this SqliteDataReader row, int column) => (int)Math.Clamp(row.GetInt64(column), int.MinValue, int.MaxValue);

    public static int? MaybeCount(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.Count(column);

    public static double? Real(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetDouble(column);

    public static long? Number(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetInt64(column);

    // A long text lies on pages of its own, which the database takes as they are: a page that was lost reads as zeros.
    private static string? Written(string? text) => text?.Contains('\0', StringComparison.Ordinal) == true
        ? throw new FormatException("A text has zeros in it, which nobody wrote.")
        : text;

    private static SqliteCommand Command(this SqliteConnection connection, string sql, ReadOnlySpan<object?> values)
    {
        var command = connection.CreateCommand();
#pragma warning disable CA2100 // Every statement is a constant of this assembly; what people type goes through parameters.
        command.CommandText = sql;
#pragma warning restore CA2100
        for (var i = 0; i < values.Length; i++)
        {
            command.Parameters.AddWithValue(string.Create(CultureInfo.InvariantCulture, $"?{i + 1}"), values[i] ?? DBNull.Value);
        }

        return command;
    }
}
