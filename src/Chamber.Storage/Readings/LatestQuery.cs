using Chamber.Core.Climate;
using Chamber.Storage.Hot;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Readings;

/// <summary>Finds the newest of each quantity; each is one step down the tree, plus the rows of a day at most.</summary>
/// <param name="connection">Where to read.</param>
/// <param name="now">What lies further ahead of it than clocks differ is not looked at.</param>
internal sealed class LatestQuery(SqliteConnection connection, Instant now) : IDisposable
{
    private const long Day = 86_400_000;
    private const long AheadMax = 900_000;

    private readonly long end = Math.Min(KeptQuantities.End, now.ToUnixTimeMilliseconds() + AheadMax);
    private readonly Statement newest =
        new(connection, "SELECT at, received FROM reading WHERE probe = ?1 AND at >= ?2 AND at < ?3 ORDER BY at DESC LIMIT 1");
    private readonly Statement aside = new(connection, "SELECT start, end FROM set_aside WHERE probe = ?1");
    private readonly Statement temperature = Newest(connection, "temperature");
    private readonly Statement humidity = Newest(connection, "humidity");
    private readonly Statement moisture = Newest(connection, "moisture");
    private readonly Statement battery = Newest(connection, "battery");

    public LatestReading? Of(long key, ProbeId probe, KeptQuantities kept)
    {
        Bind(newest, key, KeptQuantities.First);
        if (!newest.Next())
        {
            return null;
        }

        var (at, received) = (newest.Whole(0), newest.Whole(1));
        newest.Reset();
        var passedOver = PassedOver(key);
        return new(
            probe,
            Instant.FromUnixTimeMilliseconds(at),
            KeptQuantities.ReceivedAt(at, received),
            Find(temperature, key, at - Day, kept.Temperature, passedOver),
            Find(humidity, key, at - Day, kept.Humidity, passedOver),
            Find(moisture, key, at - Day, kept.Moisture, passedOver),
            Find(battery, key, at - Day, kept.Battery, passedOver));
    }

    public void Dispose()
    {
        newest.Dispose();
        aside.Dispose();
        temperature.Dispose();
        humidity.Dispose();
        moisture.Dispose();
        battery.Dispose();
    }

    private static Statement Newest(SqliteConnection connection, string column) =>
        new(connection, $"SELECT at, {column} FROM reading WHERE probe = ?1 AND at >= ?2 AND at < ?3 AND {column} IS NOT NULL ORDER BY "
            + $"at DESC");

    private void Bind(Statement row, long key, long since)
    {
        row.Bind(1, key);
        row.Bind(2, since);
        row.Bind(3, end);
    }

    private List<(long Start, long End)> PassedOver(long key)
    {
        List<(long Start, long End)> spans = [];
        aside.Bind(1, key);
        while (aside.Next())
        {
            spans.Add((aside.Whole(0), aside.Whole(1)));
        }

        aside.Reset();
        return spans;
    }

    // The first that lies within bounds; nearly always that is the first.
    private Dated<T>? Find<T>(Statement row, long key, long since, Func<double?, long, T?> keep, List<(long Start, long End)> passedOver)
        where T : struct
    {
        Bind(row, key, since);
        while (row.Next())
        {
            var at = row.Whole(0);
            if (!passedOver.Exists(span => at >= span.Start && at < span.End) && keep(row.Quantity(1), at) is { } value)
            {
                var found = new Dated<T>(Instant.FromUnixTimeMilliseconds(at), value);
                row.Reset();
                return found;
            }
        }

        return null;
    }
}
