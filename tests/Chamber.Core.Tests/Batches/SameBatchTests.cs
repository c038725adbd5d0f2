using Chamber.Core.Batches;
using Chamber.Core.Facts;
using Chamber.Testing;

namespace Chamber.Core.Tests.Batches;

/// <summary>Two batches that say the same are the same, whatever was written down of them. The homes are drawn.</summary>
public sealed class SameBatchTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void A_home_folded_twice_has_the_same_batches(int seed)
    {
        var draw = new SomeHome(new Random(seed));
        var facts = Enumerable.Range(1, 1_500).Select(number => (number, Drawn: draw.Next()))
            .Select(one => new StandingFact(one.number, one.Drawn.Fact, one.Drawn.At)).ToList();
        var (one, other) = (HomeState.Of(facts).Home, HomeState.Of(facts).Home);

        Assert.Contains(one.Batches, batch => batch.Photos.Count > 0);
        Assert.All(one.Batches, batch => Assert.True(SameBatch.Is(batch, other.Batch(batch.Id)!), $"{batch}"));
        Assert.All(one.Batches, batch => Assert.False(SameBatch.Is(batch, batch with { Seeds = batch.Seeds + 1 })));
    }
}
