using Chamber.Core.Climate;
using Chamber.Storage.Hot;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Readings;

/// <summary>Finds the newest of each quantity; each is one step down the tree, plus the rows of a day at the most.</summary>
internal static class LatestQuery
{
    private const long Day = 86_400_000;

    public static LatestReading? Of(SqliteConnection connection, long key, ProbeId probe)
    {
        using var newest = new Statement(connection, "SELECT at, received FROM reading WHERE probe = ?1 ORDER BY at DESC LIMIT 1");
        newest.Bind(1, key);
        if (!newest.Next())
        {
            return null;
        }

        var at = newest.Whole(0);
        return new(
            probe,
            Instant.FromUnixTimeMilliseconds(at),
            Instant.FromUnixTimeMilliseconds(at + newest.Whole(1)),
            Newest(connection, key, at - Day, "temperature", Temperature.FromCelsius),
            Newest(connection, key, at - Day, "humidity", RelativeHumidity.FromPercent),
            Newest(connection, key, at - Day, "moisture", value => value),
            Newest(connection, key, at - Day, "battery", value => value));
    }

    private static Dated<T>? Newest<T>(SqliteConnection connection, long key, long since, string column, Func<double, T> make)
    {
        using var row = new Statement(connection, $"SELECT at, {column} FROM reading WHERE probe = ?1 AND at >= ?2 AND {column} IS NOT NULL ORDER BY at DESC LIMIT 1");
        row.Bind(1, key);
        row.Bind(2, since);
        return row.Next() ? new Dated<T>(Instant.FromUnixTimeMilliseconds(row.Whole(0)), make(row.Quantity(1) ?? 0)) : null;
    }
}
