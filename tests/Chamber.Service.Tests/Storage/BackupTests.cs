using Chamber.Core.Climate;
using Chamber.Core.Spots;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

/// <summary>Readings, times and counts are invented.</summary>
public sealed class BackupTests : IDisposable
{
    private static readonly Interval Always = new(null, null);
    private static readonly ProbeId Shelf = new("shelf");

    private readonly DataFile file = new();

    private string Copy => file.Beside("copy.db");

    [Fact]
    public void A_backup_made_while_in_use_holds_everything_and_can_be_opened()
    {
        using var store = Filled(500);
        store.Ledger.SetUp.Save(new Spot(new("sill"), SpotKind.Sill, LightLevel.Bright, 3));
        var report = store.BackUp(Copy);
        store.Journal.Append(DataFile.Minutes(500, 5), []);

        Assert.Equal(500, report.Counts.Readings);
        Assert.Equal([Copy], Directory.GetFiles(Path.GetDirectoryName(Copy)!, "copy*"));
        using var copy = ChamberStore.Open(Copy);
        Assert.Equal(DataFile.Minutes(0, 500), copy.Journal.Read(Shelf, Always));
        Assert.Equal(store.Ledger.SetUp.Spots(), copy.Ledger.SetUp.Spots());
    }

    [Fact]
    public void A_backup_that_fails_leaves_the_older_one()
    {
        using var store = Filled(10);
        store.BackUp(Copy);
        var before = File.ReadAllBytes(Copy);
        Directory.CreateDirectory(Copy + ".unfinished");

        Assert.Equal(StoreFault.Disk, Assert.Throws<StoreException>(() => store.BackUp(Copy)).Fault);
        Assert.Equal(before, File.ReadAllBytes(Copy));
        Assert.Equal(StoreFault.Missing, Assert.Throws<StoreException>(() => store.BackUp(file.Beside("missing/copy.db"))).Fault);
    }

    [Fact]
    public void Restoring_puts_the_backup_in_place_and_keeps_what_was_there()
    {
        using (var store = Filled(10))
        {
            store.BackUp(Copy);
            store.Journal.Append(DataFile.Minutes(10, 5), []);
        }

        ChamberStore.Restore(Copy, file.Path);

        using var restored = file.Open();
        using var replaced = ChamberStore.Open(file.Path + ".replaced");
        Assert.Equal(10, restored.Journal.Read(Shelf, Always).Count());
        Assert.Equal(15, replaced.Journal.Read(Shelf, Always).Count());
    }

    [Fact]
    public void A_file_that_is_in_use_is_not_replaced()
    {
        using var store = Filled(10);
        store.BackUp(Copy);
        store.Journal.Append(DataFile.Minutes(10, 5), []);

        Assert.Equal(StoreFault.Locked, Assert.Throws<StoreException>(() => ChamberStore.Restore(Copy, file.Path)).Fault);
        Assert.Equal(15, store.Journal.Read(Shelf, Always).Count());
    }

    [Fact]
    public void A_damaged_file_is_replaced_and_kept()
    {
        using (var store = Filled(2000))
        {
            store.BackUp(Copy);
        }

        File.WriteAllText(file.Path, "no longer a database");
        ChamberStore.Restore(Copy, file.Path);

        using var restored = file.Open();
        Assert.Equal(2000, restored.Journal.Read(Shelf, Always).Count());
        Assert.Equal("no longer a database", File.ReadAllText(file.Path + ".replaced"));
    }

    [Theory]
    [InlineData(0, StoreFault.NotADatabase)]
    [InlineData(8192, StoreFault.Corrupt)]
    [InlineData(-4096, StoreFault.Corrupt)]
    public void A_damaged_backup_is_refused_and_the_data_file_is_as_it_was(int at, StoreFault fault)
    {
        using (var store = Filled(2000))
        {
            store.BackUp(Copy);
        }

        var before = File.ReadAllBytes(file.Path);
        var bytes = File.ReadAllBytes(Copy);
        bytes[at < 0 ? bytes.Length + at : at] ^= 0x5A;
        File.WriteAllBytes(Copy, bytes);

        Assert.Equal(fault, Assert.Throws<StoreException>(() => ChamberStore.Restore(Copy, file.Path)).Fault);
        Assert.Equal(before, File.ReadAllBytes(file.Path));
    }

    public void Dispose() => file.Dispose();

    private ChamberStore Filled(int minutes)
    {
        var store = file.Open();
        store.Journal.Append(DataFile.Minutes(0, minutes), []);
        return store;
    }
}
