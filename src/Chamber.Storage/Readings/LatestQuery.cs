using Chamber.Core.Climate;
using Chamber.Storage.Hot;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Readings;

/// <summary>Finds the newest of each quantity; each is one step down the tree, plus the rows of a day at the most.</summary>
internal sealed class LatestQuery(SqliteConnection connection) : IDisposable
{
    private const long Day = 86_400_000;

    private readonly Statement newest = new(connection, "SELECT at, received FROM reading WHERE probe = ?1 ORDER BY at DESC LIMIT 1");
    private readonly Statement temperature = Newest(connection, "temperature");
    private readonly Statement humidity = Newest(connection, "humidity");
    private readonly Statement moisture = Newest(connection, "moisture");
    private readonly Statement battery = Newest(connection, "battery");

    public LatestReading? Of(long key, ProbeId probe)
    {
        newest.Bind(1, key);
        if (!newest.Next())
        {
            return null;
        }

        var (at, received) = (newest.Whole(0), newest.Whole(1));
        newest.Reset();
        return new(
            probe,
            Instant.FromUnixTimeMilliseconds(at),
            Instant.FromUnixTimeMilliseconds(at + received),
            Find(temperature, key, at - Day, Temperature.FromCelsius),
            Find(humidity, key, at - Day, RelativeHumidity.FromPercent),
            Find(moisture, key, at - Day, value => value),
            Find(battery, key, at - Day, value => value));
    }

    public void Dispose()
    {
        newest.Dispose();
        temperature.Dispose();
        humidity.Dispose();
        moisture.Dispose();
        battery.Dispose();
    }

    private static Statement Newest(SqliteConnection connection, string column) =>
        new(connection, $"SELECT at, {column} FROM reading WHERE probe = ?1 AND at >= ?2 AND {column} IS NOT NULL ORDER BY "
            + $"at DESC LIMIT 1");

    private static Dated<T>? Find<T>(Statement row, long key, long since, Func<double, T> make)
    {
        row.Bind(1, key);
        row.Bind(2, since);
        if (!row.Next())
        {
            return null;
        }

        var found = new Dated<T>(Instant.FromUnixTimeMilliseconds(row.Whole(0)), make(row.Quantity(1) ?? 0));
        row.Reset();
        return found;
    }
}
