using Chamber.Core.Alerts;
using Chamber.Service.Tests.Storage;
using Chamber.Service.Workers;
using Chamber.Storage;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Service.Tests.Workers;

/// <summary>Times in which the service ran and yet knew nothing, on a real file that another connection locks. Readings, times and counts
/// are invented.</summary>
public sealed class OutagesTests : IDisposable
{
    private static readonly Instant Start = DataFile.Start;

    private readonly DataFile file = new();
    private readonly ChamberStore store;
    private readonly Outages outages;
    private bool isConnected = true;
    private bool isStoring = true;

    public OutagesTests()
    {
        store = file.Open(new() { Patience = TimeSpan.FromMilliseconds(1) });
        outages = new(store, () => isConnected, () => isStoring, () => false);
        outages.Begin(Start);
    }

    [Fact]
    public void While_nothing_could_be_written_nobody_watched()
    {
        using (var other = Lock())
        {
            Assert.Equal(StoreFault.Locked, Assert.Throws<StoreException>(() => outages.Pass(At(1))).Fault);
            Assert.Throws<StoreException>(() => outages.Pass(At(20)));
        }

        Assert.True(outages.Pass(At(30)));
        Assert.Equal([new OutageEntry(new(At(1), At(30)), OutageCause.Service)], Written());
        Assert.False(outages.Pass(At(31)));
    }

    [Fact]
    public void So_is_one_in_which_what_arrived_could_not_be_stored()
    {
        isStoring = false;
        Assert.False(outages.Pass(At(1)));
        Assert.True(outages.IsDeaf);
        Assert.False(outages.Pass(At(20)));
        isStoring = true;
        Assert.True(outages.Pass(At(30)));
        Assert.Equal([new OutageEntry(new(At(1), At(30)), OutageCause.Service)], Written());
    }

    [Fact]
    public void A_clock_that_is_put_back_while_the_broker_is_lost_ends_nothing()
    {
        isConnected = false;
        Assert.True(outages.Pass(At(2 * 24 * 60)));
        outages.Begin(At(1));
        isConnected = true;
        Assert.True(outages.Pass(At(2)));
        Assert.All(Written(), outage => Assert.True(outage.When.HasEnd));
    }

    [Fact]
    public void A_short_one_is_none()
    {
        using (var other = Lock())
        {
            Assert.Throws<StoreException>(() => outages.Pass(At(1)));
        }

        Assert.True(outages.Pass(At(3)));
        Assert.Empty(Written());
    }

    [Fact]
    public void A_broker_that_goes_while_nothing_can_be_written_is_noted_afterwards()
    {
        using (var other = Lock())
        {
            isConnected = false;
            Assert.Throws<StoreException>(() => outages.Pass(At(1)));
        }

        Assert.True(outages.Pass(At(2)));
        isConnected = true;
        Assert.True(outages.Pass(At(9)));
        Assert.Contains(new OutageEntry(new(At(2), At(9)), OutageCause.Broker), Written());
    }

    public void Dispose()
    {
        store.Dispose();
        file.Dispose();
    }

    private static Instant At(int minutes) => Start + Duration.FromMinutes(minutes);

    private IEnumerable<OutageEntry> Written() => store.Ledger.Alerts.Outages();

    private SqliteConnection Lock()
    {
        var other = new SqliteConnection($"Data Source={file.Path};Pooling=False");
        other.Open();
        using var command = other.CreateCommand();
        command.CommandText = "BEGIN IMMEDIATE";
        command.ExecuteNonQuery();
        return other;
    }
}
