using Chamber.Storage;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;

namespace Chamber.Benchmarks.Storage;

/// <summary>What the sum on each page costs: the same pages written and read in turns, in a file with sums and in one without.</summary>
internal static class SumsBenchmark
{
    private const int Turns = 15;
    private const int Rows = 20_000;

    public static void Run()
    {
        var folder = Directory.CreateTempSubdirectory("chamber-benchmark-");
        try
        {
            // Whoever opens a store registers what keeps the sums.
            ChamberStore.Open(Path.Combine(folder.FullName, "first.db"), new() { Readings = Durability.ProcessEnd }).Dispose();
            Play(folder.FullName, hasSums: true, 0);
            List<(Cost With, Cost Without)> turns = [];
            for (var turn = 0; turn < Turns; turn++)
            {
                // Whoever comes second finds the machine as the first has left it.
                var first = Play(folder.FullName, turn % 2 == 0, (2 * turn) + 1);
                var second = Play(folder.FullName, turn % 2 != 0, (2 * turn) + 2);
                turns.Add(turn % 2 == 0 ? (first, second) : (second, first));
            }

            Say("written and brought into the file", turns, cost => cost.Write);
            Say("read whole, from memory of the system", turns, cost => cost.Read);
        }
        finally
        {
            SqliteConnection.ClearAllPools();
            folder.Delete(recursive: true);
        }
    }

    private static void Say(string what, List<(Cost With, Cost Without)> turns, Func<Cost, double> part)
    {
        var ratios = turns.Select(turn => part(turn.With) / part(turn.Without)).Order().ToList();
        var with = turns.Select(turn => part(turn.With)).Order().ElementAt(Turns / 2);
        var without = turns.Select(turn => part(turn.Without)).Order().ElementAt(Turns / 2);
        Measure.Say($"{what,-40} {with:F2} µs a page with sums, {without:F2} without; ratio {ratios[Turns / 2]:F2} ({ratios[0]:F2} to {
            ratios[^1]:F2})");
    }

    private static Cost Play(string folder, bool hasSums, int number)
    {
        var path = Path.Combine(folder, $"sums-{number}.db");
        long pages;
        double write;
        using (var connection = new SqliteConnection($"Data Source={path};Pooling=False"))
        {
            connection.Open();
            if (hasSums)
            {
                PageSums.Lay(connection);
            }

            Do(connection, "PRAGMA page_size = 4096; PRAGMA journal_mode = WAL; PRAGMA synchronous = OFF; "
                + "CREATE TABLE row (id INTEGER PRIMARY KEY, text BLOB)");
            var begun = Environment.CpuUsage.TotalTime;
            Do(connection, $"WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < {Rows}) "
                + "INSERT INTO row SELECT i, zeroblob(1000) FROM n; PRAGMA wal_checkpoint(TRUNCATE)");
            write = (Environment.CpuUsage.TotalTime - begun).TotalMicroseconds;
            pages = Ask(connection, "PRAGMA page_count");
        }

        var hasThem = File.ReadAllBytes(path)[20] == 8;
        if (hasThem != hasSums)
        {
            throw new InvalidOperationException("The file has sums where it should not, or none where it should.");
        }

        using var reader = new SqliteConnection($"Data Source={path};Pooling=False");
        reader.Open();
        Do(reader, "PRAGMA cache_size = 10");
        var started = Environment.CpuUsage.TotalTime;
        for (var pass = 0; pass < 5; pass++)
        {
            Ask(reader, "SELECT count(*) FROM row WHERE length(text) > 0");
        }

        return new(write / pages, (Environment.CpuUsage.TotalTime - started).TotalMicroseconds / 5 / pages);
    }

    private static void Do(SqliteConnection connection, string text)
    {
        using var command = connection.CreateCommand();
        command.CommandText = text;
        command.ExecuteNonQuery();
    }

    private static long Ask(SqliteConnection connection, string text)
    {
        using var command = connection.CreateCommand();
        command.CommandText = text;
        return (long)command.ExecuteScalar()!;
    }

    /// <summary>Microseconds of processor time a page.</summary>
    private readonly record struct Cost(double Write, double Read);
}
