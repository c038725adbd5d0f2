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

    public void Dispose() => file.Dispose();

    private static void ReadLedger(ChamberStore store)
    {
        var batch = Assert.Single(store.Ledger.Batches.All());
        Assert.Equal(("T1", "tomato", 12), (batch.Id.Text, batch.Crop.Text, batch.Seeds));
        Assert.Equal([0, 7], batch.Looks.Select(look => look.Up));
        Assert.Equal(["tomato-24"], store.Ledger.Seeds.Lots().Select(lot => lot.Id.Text));
        Assert.Equal(["shelf"], store.Ledger.Places.Spots().Select(spot => spot.Id.Text));
    }

    private static string Kept(int version) => SourceTree.Path("tests", "cases", "schemas", $"v{version}.db");

    private static List<string> Tables(SqliteConnection connection) =>
        connection.Rows(row => row.GetString(0),
            "SELECT coalesce(sql, name) FROM sqlite_schema WHERE name NOT LIKE 'sqlite_stat%' ORDER BY name");
}
