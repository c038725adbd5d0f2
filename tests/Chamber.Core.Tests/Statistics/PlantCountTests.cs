using System.Globalization;
using Chamber.Core.Statistics;
using Chamber.Testing;

namespace Chamber.Core.Tests.Statistics;

/// <summary>How many plants come of so many seeds, against SciPy's binomial and beta-binomial distributions (Virtanen et al.
/// 2020).</summary>
[Trait(Tier.Name, Tier.Whole)]
public class PlantCountTests
{
    [Theory]
    [InlineData(46, 17, 4)]
    [InlineData(12, 2.5, 1.5)]
    [InlineData(300, 40, 60)]
    public async Task A_believed_share_gives_the_counts_of_SciPy(int seeds, double good, double bad)
    {
        var plants = PlantCount.Of(seeds, new ShareBelief(good, bad), 1);
        Assert.Equal(await Counts($"betabinom({seeds}, {Text(good)}, {Text(bad)})", seeds), (int[])[plants.Low, plants.Mid, plants.High]);
    }

    [Theory]
    [InlineData(46, 0.8)]
    [InlineData(1, 0.3)]
    public async Task A_known_share_gives_the_counts_of_SciPy(int seeds, double share)
    {
        var plants = PlantCount.Of(seeds, share);
        Assert.Equal(await Counts($"binom({seeds}, {Text(share)})", seeds), (int[])[plants.Low, plants.Mid, plants.High]);
    }

    private static async Task<int[]> Counts(string law, int seeds) => [.. (await Oracle.SciPy($$"""
        from scipy.stats import binom, betabinom
        law = {{law}}
        print(*[max(k for k in range({{seeds}} + 1) if law.sf(k - 1) >= chance) for chance in (0.9, 0.5, 0.1)])
        """)).Split(' ').Select(number => int.Parse(number, CultureInfo.InvariantCulture))];

    private static string Text(double number) => number.ToString(CultureInfo.InvariantCulture);
}
