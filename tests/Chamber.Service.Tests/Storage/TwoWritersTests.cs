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
}
