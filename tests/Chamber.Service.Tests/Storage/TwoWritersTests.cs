using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Spots;
using Chamber.Testing;

namespace Chamber.Service.Tests.Storage;

/// <summary>Two programs that write down in one file at the same moment.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class TwoWritersTests
{
    [Fact]
    public async Task Each_of_two_programs_is_judged_by_what_the_other_has_just_written()
    {
        using var file = new DataFile();
        using var store = file.Open();
        store.Home.Append(Author.Program, DataFile.Start, new SpotSetUp(new("shelf")).At(DataFile.Start),
            new BatchSown(CountingProcess.Batch, new("tomato"), SowingMethod.CoveredMix, 5000, Spot: new("shelf")).At(DataFile.Start));

        await using (var one = CountingProcess.Start(file.Path, CountingProcess.Names[0]))
        await using (var other = CountingProcess.Start(file.Path, CountingProcess.Names[1]))
        {
            (await one.End()).Succeeded();
            (await other.End()).Succeeded();
        }

        var log = store.Facts.Log();
        var looks = log.Entries.Skip(2).ToList();
        Assert.Equal(Enumerable.Range(1, looks.Count), looks.Select(entry => ((BatchLooked)entry.Fact).Up));
        Assert.Equal(Enumerable.Range(3, looks.Count), looks.Select(entry => (int)entry.Number));
        Assert.All(CountingProcess.Names,
            name => Assert.InRange(looks.Count(entry => entry.By.Who == name), CountingProcess.LooksMin, looks.Count));
        Assert.Equal(HomeText.Of(log.Home), HomeText.Of(store.Facts.Home()));
    }

    [Fact]
    public async Task Who_waits_for_a_busy_neighbour_gets_a_turn_beyond_its_patience()
    {
        using var file = new DataFile();
        using var store = file.Open(new StoreOptions { Patience = TimeSpan.FromSeconds(2) });
        using var neighbour = new BusyNeighbour(file.Path);

        // The file is never free for longer than it takes to begin again, for longer than anybody waits who sees no one get on.
        var busy = neighbour.BeginAsync(turns: 200);
        await neighbour.HasBegun;
        store.Home.Append(Author.Program, DataFile.Start, new SpotSetUp(new("shelf")).At(DataFile.Start));
        await busy;

        Assert.Single(store.Facts.Home().Spots);
    }

    [Fact]
    public void Who_finds_a_file_that_nobody_lets_go_of_is_told()
    {
        using var file = new DataFile();
        using var store = file.Open(new StoreOptions { Patience = TimeSpan.FromMilliseconds(100) });
        using var neighbour = new BusyNeighbour(file.Path);
        neighbour.Hold();

        var told = Assert.Throws<StoreException>(() =>
            store.Home.Append(Author.Program, DataFile.Start, new SpotSetUp(new("shelf")).At(DataFile.Start)));

        Assert.Equal(StoreFault.Locked, told.Fault);
    }
}
