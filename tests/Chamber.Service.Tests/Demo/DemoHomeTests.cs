using Chamber.Core.Simulation;
using Chamber.Service.Configuration;
using Chamber.Service.Demo;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Demo;

/// <summary>What the demo begins with holds together whenever it is opened: how many seedlings are up by a day depends on the
/// hour.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class DemoHomeTests
{
    public static TheoryData<int, int> Openings =>
        [.. from hour in Enumerable.Range(0, 8).Select(part => 3 * part + part % 3) from seed in (int[])[1, 3] select (hour, seed)];

    [Theory]
    [MemberData(nameof(Openings))]
    public void The_flat_can_be_entered_at_any_hour(int hour, int seed)
    {
        using var folder = new TempFolder();
        var data = new DataDirectory(folder.File("demo"));
        var opens = Instant.FromUtc(2026, 11, 30, hour, 19);
        new DemoHome(data, new Settings { Mappings = DemoMessages.Mappings }, opens, DateTimeZone.Utc, seed)
            .Furnish(_ => { }, TestContext.Current.CancellationToken);
        using var store = ChamberStore.Open(data.Database);
        Assert.Equal(SharedFlat.Batches.Count + FlatGrownBatches.Of(opens).Count, store.Ledger.Batches.All().Count);
    }
}
