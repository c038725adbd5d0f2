using System.Security.Cryptography;
using Chamber.Core.Climate;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

/// <summary>Readings, times and counts are invented.</summary>
public sealed class FaultTests : IDisposable
{
    private static readonly Interval Always = new(null, null);
    private static readonly ProbeId Shelf = new("shelf");

    private static readonly int Newest = Directory.GetFiles(SourceTree.Path("src", "Chamber.Storage", "Migrations"), "*.sql").Length;

    private readonly DataFile file = new();

    public static TheoryData<string, StoreFault, string> Unusable => new()
    {
        { "text", StoreFault.NotADatabase, "the file is not a database. Name another data directory, or move the file away." },
        { "another program's", StoreFault.NotOurs, "the file is a database of another program. Name another data directory." },
        { "another program's, marked", StoreFault.NotOurs, "the file is a database of another program. Name another data directory." },
        { "newer", StoreFault.NewerVersion, $"a newer Chamber wrote this file (version 99; this one knows {Newest}). Start the newer "
            + $"Chamber, or restore the copy that it made beside the file before its first start." },
        { "folder", StoreFault.NotADatabase, "this is a folder. Name a file in it." },
    };

    [Theory]
    [MemberData(nameof(Unusable))]
    public void An_unusable_file_stays_as_it_was_and_the_message_says_the_fix(string kind, StoreFault fault, string message)
    {
        Make(kind);
        var before = Fingerprint();

        var thrown = Assert.Throws<StoreException>(() => file.Open());

        Assert.Equal((fault, $"{file.Path}: {message}"), (thrown.Fault, thrown.Message));
        Assert.Equal(before, Fingerprint());
    }

    [Fact]
    public void Without_the_folder_there_is_no_file()
    {
        var thrown = Assert.Throws<StoreException>(() => ChamberStore.Open(file.Beside("missing/chamber.db")));
        Assert.Equal(StoreFault.Missing, thrown.Fault);
        Assert.Equal(StoreFault.Missing, Assert.Throws<StoreException>(() => file.Open(new() { ReadOnly = true })).Fault);
    }

    [Fact]
    public void A_file_opened_for_reading_only_reads_and_refuses_to_write()
    {
        using var writer = Filled(10);
        using var reader = file.Open(new() { ReadOnly = true });

        Assert.Equal(10, reader.Journal.Read(Shelf, Always).Count());
        Assert.Equal(StoreFault.ReadOnly, Assert.Throws<StoreException>(() => reader.Journal.Append([DataFile.At(99)], [])).Fault);
        Assert.Equal(StoreFault.ReadOnly, Assert.Throws<StoreException>(() => reader.Ledger.Settings.Set("a", "b")).Fault);
    }

    [Fact]
    public void While_another_process_holds_the_file_reading_goes_on_but_not_writing()
    {
        using var store = Filled(10, new() { Patience = TimeSpan.FromMilliseconds(20) });
        using (var other = Raw("BEGIN IMMEDIATE"))
        {
            Assert.Equal(StoreFault.Locked, Assert.Throws<StoreException>(() => store.Journal.Append([DataFile.At(99)], [])).Fault);
            Assert.Equal(10, store.Journal.Read(Shelf, Always).Count());
        }

        Assert.Equal(1, store.Journal.Append([DataFile.At(99)], []).Inserted);
    }

    [Fact]
    public void An_append_to_a_full_file_is_refused_whole_and_works_again_with_room()
    {
        using (var store = Filled(1000, new() { PagesMax = 80 }))
        {
            var thrown = Assert.Throws<StoreException>(() => store.Journal.Append(DataFile.Minutes(1000, 20_000), []));
            Assert.Equal(
                (StoreFault.DiskFull, $"{file.Path}: the disk is full. Make room on it; nothing was half-written, and the same can be "
                + $"tried again."), (thrown.Fault, thrown.Message));
            Assert.Equal(1000, store.Journal.Read(Shelf, Always).Count());
            Assert.Equal(1, store.Journal.Append(DataFile.Minutes(1000, 1), []).Inserted);
        }

        using var roomy = file.Open();
        Assert.Equal(19_999, roomy.Journal.Append(DataFile.Minutes(1000, 20_000), []).Inserted);
    }

    [Fact]
    public async Task A_refused_write_is_said_and_what_was_acknowledged_is_there()
    {
        await using var process = AppendingProcess.Start(file.Path, shellLimit: "trap '' XFSZ; ulimit -f 2000");
        var ended = await process.End();

        Assert.Equal(3, ended.ExitCode);
        Assert.Matches("fault (DiskFull|Disk): .*half-written", ended.Output.Split('\n')[^1]);
        using var store = file.Open();
        Assert.Contains($"committed {store.Journal.Size().Readings}\n", ended.Output, StringComparison.Ordinal);
    }

    public static TheoryData<int, StoreFault> DamagedBytes => new()
    {
        { 0, StoreFault.NotADatabase },      // the magic words
        { 16, StoreFault.NotADatabase },     // the page size
        { 100, StoreFault.Corrupt },         // the kind of the first page of the schema
        { 103, StoreFault.Corrupt },         // its number of cells
    };

    [Theory]
    [MemberData(nameof(DamagedBytes))]
    public void A_damaged_byte_in_the_header_is_told_at_opening(int at, StoreFault fault)
    {
        Filled(1000).Dispose();
        Damage(file.Path, at);

        Assert.Equal(fault, Assert.Throws<StoreException>(() => file.Open()).Fault);
        Assert.Equal(fault, Assert.Throws<StoreException>(() => ChamberStore.Verify(file.Path)).Fault);
    }

    [Fact]
    public void A_damaged_page_of_readings_is_told_and_the_ledger_can_still_be_read()
    {
        using (var store = Filled(5000))
        {
            store.Ledger.Settings.Set("zone", "Europe/Lisbon");
        }

        Damage(file.Path, RootPage("reading") * 4096 - 4096);

        using var damaged = file.Open();
        var thrown = Assert.Throws<StoreException>(() => damaged.Journal.Read(Shelf, Always).Count());
        Assert.Equal(
            (StoreFault.Corrupt, $"{file.Path}: the file is damaged. Stop the service, keep a copy of the file, and restore the newest "
            + $"backup (chamber check says whether it is whole)."), (thrown.Fault, thrown.Message));
        Assert.Equal(thrown.Message, damaged.Damage);
        Assert.Equal("Europe/Lisbon", damaged.Ledger.Settings.Get("zone"));
        var refused = Assert.Throws<StoreException>(() => damaged.BackUp(file.Beside("copy.db")));
        Assert.Equal((StoreFault.Corrupt, file.Path), (refused.Fault, refused.Path));
        Assert.False(File.Exists(file.Beside("copy.db")));
    }

    [Fact]
    public void A_backup_that_is_not_whole_because_the_file_is_not_says_so()
    {
        using (var store = Filled(10))
        {
            store.Ledger.Settings.Set("zone", "Europe/Lisbon");
        }

        Damage(file.Path, RootPage("setting") * 4096 - 4096);

        using var damaged = file.Open();
        var thrown = Assert.Throws<StoreException>(() => damaged.BackUp(file.Beside("copy.db")));
        Assert.Equal((StoreFault.Corrupt, file.Path), (thrown.Fault, thrown.Path));
        Assert.Equal(thrown.Message, damaged.Damage);
        Assert.False(File.Exists(file.Beside("copy.db")));
    }

    public static TheoryData<string, Action<ChamberStore>> Nonsense => new()
    {
        { "UPDATE probe SET id = 'no name!'", store => store.Journal.Probes() },
        { "UPDATE refusal_count SET reason = 'Whim'", store => store.Journal.RefusalCounts() },
        { "UPDATE refusal_count SET last = 9223372036854775807", store => store.Journal.RefusalCounts() },
    };

    [Theory]
    [MemberData(nameof(Nonsense))]
    public void A_row_that_holds_what_was_never_written_is_damage(string sql, Action<ChamberStore> read)
    {
        using var store = Filled(10);
        store.Journal.Append([], [new(DataFile.Start, "chamber/shelf/reading", Shelf, null, RefusalReason.Malformed, "{", "Look.")]);
        Assert.Null(store.Damage);
        Raw(sql).Dispose();

        Assert.Equal(StoreFault.Corrupt, Assert.Throws<StoreException>(() => read(store)).Fault);
        Assert.Contains("the file is damaged", store.Damage, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void A_torn_commit_is_gone_whole_and_those_before_it_are_there(int tornFromTheEnd)
    {
        using var store = Filled(100);
        var ends = new List<long>();
        for (var commit = 0; commit < 4; commit++)
        {
            store.Journal.Append(DataFile.Minutes(100 + commit * 10, 10), []);
            ends.Add(new FileInfo(file.Path + "-wal").Length);
        }

        // As after a power cut: what was in the log stays, the shared memory is gone, and one byte of one commit is wrong.
        File.Copy(file.Path, file.Beside("torn.db"));
        File.Copy(file.Path + "-wal", file.Beside("torn.db-wal"));
        Damage(file.Beside("torn.db-wal"), ends[^(1 + tornFromTheEnd)] - 100);

        using var torn = ChamberStore.Open(file.Beside("torn.db"));
        Assert.Equal(100 + (3 - tornFromTheEnd) * 10, torn.Journal.Read(Shelf, Always).Count());
    }

    public void Dispose() => file.Dispose();

    private static void Damage(string path, long at)
    {
        using var stream = File.Open(path, FileMode.Open, FileAccess.ReadWrite);
        stream.Position = at;
        var old = stream.ReadByte();
        stream.Position = at;
        stream.WriteByte((byte)(old ^ 0x5A));
    }

    private ChamberStore Filled(int minutes, StoreOptions? options = null)
    {
        var store = file.Open(options);
        store.Journal.Append(DataFile.Minutes(0, minutes), []);
        return store;
    }

    private void Make(string kind)
    {
        switch (kind)
        {
            case "text":
                File.WriteAllText(file.Path, string.Concat(Enumerable.Repeat("time;celsius\n", 500)));
                break;
            case "folder":
                Directory.CreateDirectory(file.Path);
                break;
            case "newer":
                Filled(1).Dispose();
                Raw("PRAGMA user_version = 99").Dispose();
                break;
            default:
                Raw("CREATE TABLE song (name TEXT)").Dispose();
                Raw(kind.EndsWith("marked", StringComparison.Ordinal) ? "PRAGMA application_id = 77" : "SELECT 1").Dispose();
                break;
        }
    }

    private SqliteConnection Raw(string sql)
    {
        var connection = new SqliteConnection($"Data Source={file.Path};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Constants of this test.
        command.CommandText = sql;
#pragma warning restore CA2100
        command.ExecuteNonQuery();
        return connection;
    }

    private long RootPage(string table)
    {
        using var connection = Raw("SELECT 1");
        using var command = connection.CreateCommand();
        command.CommandText = "SELECT rootpage FROM sqlite_schema WHERE name = $name";
        command.Parameters.AddWithValue("$name", table);
        return (long)command.ExecuteScalar()!;
    }

    private string Fingerprint() =>
        File.Exists(file.Path) ? Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(file.Path))) : "none";
}
