using Chamber.Core.Climate;
using Chamber.Storage;
using Chamber.Storage.Files;
using Chamber.Testing;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

/// <summary>tests/cases/schemas keeps a data file of each version: homes that were left alone for years must still open. What the kept
/// files hold was invented when they were made.</summary>
public sealed class KeptSchemaTests : IDisposable
{
    private static readonly ProbeId Probe = new("shelf-air");

    private readonly DataFile file = new();

    public static TheoryData<int> Versions => [.. Enumerable.Range(1, Schema.Newest)];

    [Theory]
    [MemberData(nameof(Versions))]
    public void A_file_of_each_version_is_kept(int version)
    {
        Assert.True(
            File.Exists(Kept(version)),
            $"tests/cases/schemas/v{version}.db is missing: build, run eng/keep-schema-file and commit the file.");
        Assert.Equal(version, ChamberStore.Verify(Kept(version)).Version);
    }

    [Theory]
    [MemberData(nameof(Versions))]
    public void A_kept_file_has_the_tables_that_its_migrations_lay(int version)
    {
        using var laid = new SqliteConnection("Data Source=:memory:");
        laid.Open();
        foreach (var migration in Directory.GetFiles(SourceTree.Path("src", "Chamber.Storage", "Migrations"), "*.sql")
            .Order(StringComparer.Ordinal).Take(version))
        {
            laid.Execute(File.ReadAllText(migration));
        }

        using var kept = new SqliteConnection($"Data Source={Kept(version)};Mode=ReadOnly;Pooling=False");
        kept.Open();
        Assert.Equal(Tables(laid), Tables(kept));
    }

    [Theory]
    [MemberData(nameof(Versions))]
    public void A_kept_file_is_brought_up_to_date_and_read(int version)
    {
        File.Copy(Kept(version), file.Path);
        using var store = file.Open();

        var readings = store.Journal.Read(Probe, new(null, null)).ToList();
        Assert.Equal([21.5, 22.5, 23.5], readings.Select(reading => reading.Temperature!.Value.Celsius));
        Assert.Equal(Enumerable.Range(1, 3).Select(day => Instant.FromUtc(2026, 3, day, 9, 0)),
            readings.Select(reading => reading.MeasuredAt));
        if (version >= 2)
        {
            ReadLedger(store);
        }

        store.Journal.Append([DataFile.At(1, probe: Probe.Text)], []);
        Assert.Equal(Schema.Newest, ChamberStore.Verify(file.Path).Version);
    }

    [Fact]
    public void A_planting_out_day_among_the_settings_moves_to_its_batch()
    {
        File.Copy(Kept(4), file.Path);
        using (var old = new SqliteConnection($"Data Source={file.Path};Pooling=False"))
        {
            old.Open();
            old.Execute("INSERT INTO setting (name, value) VALUES ('plant-out.T1', '2026-05-17'), ('plant-out.T9', 'soon'), ('season-plan', '{}')");
        }

        using var store = file.Open();
        Assert.Equal(new LocalDate(2026, 5, 17), Assert.Single(store.Ledger.Batches.All()).PlantOut);
        Assert.Null(store.Ledger.Settings.Get("plant-out.T1"));
        Assert.Equal("{}", store.Ledger.Settings.Get("season-plan"));
    }

    public static TheoryData<int> VersionsWithRows => [.. Enumerable.Range(2, 4)];

    /// <summary>Each table of rows is asked before and after: the facts that the rows became come to the same rows.</summary>
    [Theory]
    [MemberData(nameof(VersionsWithRows))]
    public void The_facts_that_rows_become_come_to_the_same_rows(int version)
    {
        File.Copy(Kept(version), file.Path);
        Change("""
            INSERT INTO lot (id, crop, origin, year_kind, counted, counted_at, price, storage, treated, parent)
              VALUES ('a-child', 'tomato', 'Saved', 'Harvested', 30, 1772355600000, '1.50', 'Room', 0, 'tomato-24');
            INSERT INTO lot_test (lot, started_at, seeds, good, fair, batch) VALUES ('tomato-24', 1772355600000, 10, 9, 1, 'T1');
            INSERT INTO stage (batch, kind, at, plants) SELECT 'T1', 'PrickedOut', max(at) + 9, 5 FROM look;
            INSERT INTO loss (batch, at, plants, cause) SELECT 'T1', max(at) + 99, 1, 'Cold' FROM look;
            INSERT INTO wetting (batch, at) SELECT 'T1', max(at) + 999 FROM look;
            INSERT INTO calibration (probe, start, offset) SELECT key, 1772355600000, 0.25 FROM probe;
            INSERT INTO crop (id, profile) VALUES ('kale', '{"base":4}');
            INSERT INTO setting (name, value) VALUES ('season-plan', '{}'), ('mirror.cursor', '7');
            INSERT INTO alert (kind, subject_kind, subject, severity, since, opened_at, closed_at, evidence, seen_at, seen_by)
              VALUES ('TooCold', 'Spot', 'shelf', 'Note', 1772355600000, 1772355600000, 1772355700000, '{}', 1772355800000, 'Ana');
            """);
        var before = Rows();
        Assert.Contains("a-child", before, StringComparison.Ordinal);

        using (var store = file.Open())
        {
            Assert.Empty(store.LeftOut);
            Assert.Equal(before, Rows());
            Assert.Equal(Core.Facts.WriteWay.Program, store.Facts.Since(0)[0].By.Way);
        }

        using var again = file.Open();
        Assert.Equal(before, Rows());
    }

    [Fact]
    public void Rows_beyond_bounds_become_facts_that_count_for_nothing_and_are_told()
    {
        File.Copy(Kept(5), file.Path);
        Change("PRAGMA ignore_check_constraints = 1; UPDATE batch SET seeds = 100000000; UPDATE spot SET room = 5000; UPDATE lot SET price = '99999999999'");

        using var store = file.Open();
        Assert.Empty(store.Ledger.Batches.All());
        Assert.Equal(1, Assert.Single(store.Ledger.SetUp.Spots()).Room);
        Assert.Equal("tomato-24", Assert.Single(store.Ledger.Seeds.Lots()).Id.Text);
        Assert.Contains(store.LeftOut, line => line.Contains("(batch-sown of T1) is left out: 100,000,000 is outside 1 to 10,000",
            StringComparison.Ordinal));
        Assert.Contains(store.LeftOut, line => line.Contains("(spot-set-up of shelf) is left out: 5000 is outside",
            StringComparison.Ordinal));
        Assert.Contains(store.Facts.Since(0), entry => entry.Fact is Core.Facts.Batches.BatchSown { Seeds: 100_000_000 });
    }

    public void Dispose() => file.Dispose();

    private static void ReadLedger(ChamberStore store)
    {
        var batch = Assert.Single(store.Ledger.Batches.All());
        Assert.Equal(("T1", "tomato", 12), (batch.Id.Text, batch.Crop.Text, batch.Seeds));
        Assert.Equal([0, 7], batch.Looks.Select(look => look.Up));
        Assert.Equal(["tomato-24"], store.Ledger.Seeds.Lots().Select(lot => lot.Id.Text));
        Assert.Equal(["shelf"], store.Ledger.SetUp.Spots().Select(spot => spot.Id.Text));
    }

    // Of any version: what a later one added is not among it.
    private string Rows()
    {
        using var connection = new SqliteConnection($"Data Source={file.Path};Pooling=False");
        connection.Open();
        string[] tables =
        [
            "spot", "station", "calibration", "crop", "lot", "batch", "stay", "look", "wetting", "outage",
            "(SELECT id, measurand, max_gap_ms, hand_read, note FROM probe)",
            "(SELECT lot, started_at, called_at, seeds, good, fair, batch, note FROM lot_test)",
            "(SELECT batch, kind, at, plants, note FROM stage)",
            "(SELECT batch, at, plants, cause, note FROM loss)",
            "(SELECT number, kind, subject, severity, opened_at, closed_at, seen_at, seen_by, muted_until FROM alert)",
            "(SELECT name, value FROM setting)",
        ];
        return string.Join('\n', tables.SelectMany(table => connection.Rows(
            row => string.Join('|', Enumerable.Range(0, row.FieldCount).Where(i =>
                row.GetName(i) is not ("plant_out" or "depth_mm" or "moisture" or "uncertainty" or "humidity"))
                .Select(i => $"{row.GetName(i)}={row.GetValue(i)}")),
            $"SELECT * FROM {table} ORDER BY 1, 2")));
    }

    private void Change(string sql)
    {
        using var connection = new SqliteConnection($"Data Source={file.Path};Pooling=False");
        connection.Open();
        connection.Execute(sql);
    }

    private static string Kept(int version) => SourceTree.Path("tests", "cases", "schemas", $"v{version}.db");

    private static List<string> Tables(SqliteConnection connection) =>
        connection.Rows(row => row.GetString(0),
            "SELECT coalesce(sql, name) FROM sqlite_schema WHERE name NOT LIKE 'sqlite_stat%' ORDER BY name");
}
