using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Storage;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Benchmarks.Storage;

/// <summary>Appending against the ordinary binding row by row; reading back and folding a year of minutes of twenty probes.</summary>
internal static class StorageBenchmark
{
    private const int Probes = 20;
    private const int BatchSize = 2000;
    private const int YearOfMinutes = 525_600;
    private const int CompareMinutes = 25_000;

    private static readonly Instant Start = Instant.FromUtc(2025, 1, 1, 0, 0);
    private static readonly Interval Always = new(null, null);
    private static readonly ProbeId[] Ids = [.. Enumerable.Range(1, Probes).Select(number => new ProbeId($"probe-{number}"))];

    private static readonly WarmthLimits Tomato = new(
        new(Temperature.FromCelsius(8.7), Temperature.FromCelsius(26), Temperature.FromCelsius(30), Temperature.FromCelsius(40)),
        Temperature.FromCelsius(15),
        Temperature.FromCelsius(32));

    public static void Run()
    {
        var folder = Directory.CreateTempSubdirectory("chamber-benchmark-");
        try
        {
            Compare(folder.FullName);
            OneByOne(folder.FullName);
            Year(folder.FullName);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static void Compare(string folder)
    {
        var ordinary = Measure.Rate("ordinary binding, row by row, batches of 2000",
            () => AppendOrdinarily(Path.Combine(folder, "ordinary.db")));
        var lax = AppendRate(folder, Durability.ProcessEnd);
        var flushed = AppendRate(folder, Durability.PowerLoss);
        Measure.Say(
            $"journal against ordinary binding: {lax / ordinary:F2} unflushed (as the ordinary one), {flushed / ordinary:F2} flushed at each commit");
    }

    private static double AppendRate(string folder, Durability durability)
    {
        using var store = ChamberStore.Open(Path.Combine(folder, $"{durability}.db"), new() { Readings = durability });
        return Measure.Rate($"journal, batches of 2000, survives {durability}", () => Append(store, CompareMinutes));
    }

    private static void OneByOne(string folder)
    {
        foreach (var durability in Enum.GetValues<Durability>())
        {
            using var store = ChamberStore.Open(Path.Combine(folder, $"single-{durability}.db"), new() { Readings = durability });
            Measure.Rate($"journal, one reading a commit, survives {durability}", () =>
            {
                foreach (var reading in Minutes(100).Take(1000))
                {
                    store.Journal.Append([reading], []);
                }

                return 1000;
            });
        }
    }

    private static void Year(string folder)
    {
        var path = Path.Combine(folder, "year.db");
        using var store = ChamberStore.Open(path, new() { Readings = Durability.ProcessEnd });
        Measure.Rate("a year of minutes of 20 probes, appended", () => Append(store, YearOfMinutes));
        Measure.Say($"size: {new FileInfo(path).Length / 1e6:F0} MB");
        Measure.Rate("read and folded into warm-hours", () => Fold(store));
        Measure.Rate("read whole", () => Ids.Sum(id => store.Journal.Read(id, Always).LongCount()));
        Measure.Rate("newest of every probe", () => Enumerable.Range(0, 100).Sum(_ => store.Journal.Latest(Instant.MaxValue).Count));
        Measure.Rate("backed up and verified (readings)", () => store.BackUp(Path.Combine(folder, "backup.db")).Counts.Readings);
        Measure.Rate("rolled up (readings looked at)", () => RollUp(store));
        Measure.Say($"after it: {store.Journal.Size().Readings:N0} readings, {store.Journal.Size().Rolled:N0} stretches");
        Measure.Rate("rolled-up year read and folded (points)", () => Fold(store));
    }

    private static long Append(ChamberStore store, int minutes)
    {
        var count = 0L;
        foreach (var batch in Minutes(minutes).Chunk(BatchSize))
        {
            count += store.Journal.Append(batch, []).Inserted;
        }

        return count;
    }

    private static long Fold(ChamberStore store)
    {
        var count = 0L;
        foreach (var id in Ids)
        {
            var tally = new WarmthTally(Tomato, Probe.DefaultMaxGap);
            foreach (var sample in store.Journal.ReadTemperatures(id, Always))
            {
                tally.Add(sample.At, sample.Temperature);
                count++;
            }
        }

        return count;
    }

    private static long RollUp(ChamberStore store)
    {
        var looked = 0L;
        RollUpResult pass;
        do
        {
            pass = store.Journal.RollUp(Start + Duration.FromDays(1000));
            looked += pass.Looked;
        }
        while (pass.More);
        return looked;
    }

    private static long AppendOrdinarily(string path)
    {
        using var connection = new SqliteConnection($"Data Source={path}");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = """
            PRAGMA journal_mode = WAL; PRAGMA synchronous = NORMAL;
            CREATE TABLE reading (probe INTEGER, at INTEGER, received INTEGER, temperature REAL, humidity REAL, PRIMARY KEY (probe, at)) WITHOUT ROWID
            """;
        command.ExecuteNonQuery();
        command.CommandText = "INSERT OR IGNORE INTO reading VALUES ($probe, $at, $received, $temperature, $humidity)";
        var parameters = ((string[])["$probe", "$at", "$received", "$temperature", "$humidity"])
            .Select(name => command.Parameters.Add(name, SqliteType.Integer)).ToList();
        parameters[3].SqliteType = parameters[4].SqliteType = SqliteType.Real;
        var keys = Ids.Index().ToDictionary(pair => pair.Item, pair => pair.Index);
        var count = 0L;
        foreach (var batch in Minutes(CompareMinutes).Chunk(BatchSize))
        {
            using var transaction = connection.BeginTransaction();
            command.Transaction = transaction;
            foreach (var reading in batch)
            {
                parameters[0].Value = keys[reading.Probe];
                parameters[1].Value = reading.MeasuredAt.ToUnixTimeMilliseconds();
                parameters[2].Value = reading.ReceivedAt.ToUnixTimeMilliseconds();
                parameters[3].Value = reading.Temperature!.Value.Celsius;
                parameters[4].Value = reading.Humidity!.Value.Percent;
                count += command.ExecuteNonQuery();
            }

            transaction.Commit();
        }

        return count;
    }

    /// <summary>Twenty probes that each speak once a minute at odd milliseconds, with the day in their temperature.</summary>
    private static IEnumerable<Reading> Minutes(int minutes)
    {
        var random = new Random(20261125);
        for (var minute = 0; minute < minutes; minute++)
        {
            var day = 3 * Math.Sin(minute / 229.0);
            foreach (var (index, id) in Ids.Index())
            {
                var at = Start + Duration.FromMilliseconds(60_000L * minute + 3000 * index + random.Next(1000));
                yield return new(
                    id,
                    at,
                    at + Duration.FromMilliseconds(random.Next(300)),
                    Temperature.FromCelsius(Math.Round(21 + index * 0.3 + day + random.NextDouble() * 0.4, 1)),
                    RelativeHumidity.FromPercent(Math.Round(45 + random.NextDouble() * 4, 1)));
            }
        }
    }
}
