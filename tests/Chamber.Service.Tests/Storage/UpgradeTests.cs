using Chamber.Storage;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

public sealed class UpgradeTests : IDisposable
{
    private static readonly Interval Always = new(null, null);

    private readonly DataFile file = new();

    [Fact]
    public void An_older_file_is_copied_and_then_brought_up_to_date()
    {
        LayVersionOne();
        using (var store = file.Open())
        {
            Assert.Equal([DataFile.At(1)], store.Journal.Read(new("shelf"), Always));
            store.Ledger.Settings.Set("works", "yes");
        }

        Assert.Equal(Schema.Newest, ChamberStore.Verify(file.Path).Version);
        Assert.Equal(1L, Ask(file.Path + ".version-1", "PRAGMA user_version"));
    }

    [Fact]
    public void An_older_file_is_not_brought_up_to_date_by_somebody_who_only_reads()
    {
        LayVersionOne();
        Assert.Equal(StoreFault.ReadOnly, Assert.Throws<StoreException>(() => file.Open(new() { ReadOnly = true })).Fault);
        Assert.Equal(1L, Ask(file.Path, "PRAGMA user_version"));
    }

    [Fact]
    public async Task Several_processes_that_create_the_file_at_once_find_one_file()
    {
        var stores = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => Task.Run(() => file.Open())));
        foreach (var store in stores)
        {
            store.Journal.Append([DataFile.At(1)], []);
            store.Dispose();
        }

        Assert.Equal((1, Schema.Newest), (ChamberStore.Verify(file.Path).Counts.Readings, ChamberStore.Verify(file.Path).Version));
    }

    public void Dispose() => file.Dispose();

    /// <summary>The file as the first version laid it, with one reading in it.</summary>
    private void LayVersionOne()
    {
        using var stream = typeof(Schema).Assembly.GetManifestResourceStream("Chamber.Storage.Migrations.0001-journal.sql")!;
        using var text = new StreamReader(stream);
        var at = DataFile.At(1).MeasuredAt.ToUnixTimeMilliseconds();
        Ask(file.Path, $"""
            {text.ReadToEnd()}
            INSERT INTO probe (key, id) VALUES (1, 'shelf');
            INSERT INTO reading (probe, at, received, clock, temperature) VALUES (1, {at}, 40, 0, 21500);
            PRAGMA application_id = {Schema.ApplicationId};
            PRAGMA user_version = 1
            """);
    }

    private static object? Ask(string path, string sql)
    {
        using var connection = new SqliteConnection($"Data Source={path};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Constants of this test.
        command.CommandText = sql;
#pragma warning restore CA2100
        return command.ExecuteScalar();
    }
}
