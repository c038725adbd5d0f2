using Chamber.Core.Crops;
using Chamber.Core.Statistics;
using NodaTime;

namespace Chamber.Core.Seeds;

/// <summary>A count that says something about a lot.</summary>
/// <param name="On">The day it was called.</param>
/// <param name="Count">How many of how many.</param>
/// <param name="Fair">Whether the conditions were fair to the seed.</param>
/// <param name="From">Where it comes from, for people: "test of 3 Mar", "batch T3".</param>
public sealed record LotEvidence(LocalDate On, SeedCount Count, bool Fair, string From);

/// <summary>What is believed of the share of a lot that comes up in good conditions, and why.</summary>
/// <param name="Share">The belief.</param>
/// <param name="FromAge">The share expected from crop, age and storage alone.</param>
/// <param name="Age">How old the seed is; null when nobody knows.</param>
/// <param name="YearsLeft">Years until fewer than half of a usual lot like it come up, in that store; negative past it; null without a
/// year.</param>
/// <param name="YearsGood">Years until it is expected to have lost a quarter of what came up fresh; 0 past that; null without a
/// year.</param>
/// <param name="Counted">How many of its seeds stand behind the belief, in tests and batches that were fair to it.</param>
/// <param name="LeftOut">Evidence that was not used, since it was not fair to the seed.</param>
public sealed record LotBelief(
    ShareBelief Share,
    double FromAge,
    SeedAge? Age,
    double? YearsLeft,
    double? YearsGood,
    int Counted,
    IReadOnlyList<LotEvidence> LeftOut)
{
    /// <summary>From so many counted seeds on the lot itself is known better than its kind. Common practice, no source.</summary>
    public const int TestedSeeds = 8;

    /// <summary>Seed of which nobody knows the age is believed to be so old, give or take as much again.</summary>
    private const double YearsUnknown = 3;
    private const double YearsUnknownDeviation = 2;

    /// <summary>What is left of fresh seed when its good years are over.</summary>
    private const double GoodShare = 0.75;

    /// <summary>Whether enough seeds of this lot were counted to rely on.</summary>
    public bool IsTested => Counted >= TestedSeeds;

    /// <summary>Learns from everything known of a lot on a day. An old count is carried forward: seed has aged since, from where the count
    /// found it.</summary>
    public static LotBelief Of(Lot lot, Crop crop, IEnumerable<LotEvidence> evidence, LocalDate today)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        var curve = AgingCurve.Of(lot, crop);
        var age = SeedAge.Of(lot, today);
        var years = age?.Years ?? YearsUnknown;
        var grid = LotGrid.Of(curve, years, age is { } known ? (known.YearsMax - known.Years) / 2 : YearsUnknownDeviation);
        var expected = grid.Mean;
        List<LotEvidence> leftOut = [];
        var counted = 0;
        foreach (var item in evidence)
        {
            // Neither way: a good count in spite of the conditions may be worth something, but then somebody must call it fair.
            if (!item.Fair)
            {
                leftOut.Add(item);
                continue;
            }

            var since = Math.Max(0, Period.DaysBetween(item.On, today) / 365.25);
            grid.Learn(item.Count, curve.LostIn(since));
            counted += item.Count.Seeds;
        }

        return new(grid.Belief(), expected, age, age is null ? null : curve.HalfYears - years,
            age is null ? null : YearsGoodFrom(curve, years), counted, leftOut);
    }

    /// <summary>The chance that the lot meets a legal minimum today.</summary>
    public double ChanceOfMeeting(double minimum) =>
        1 - MathNet.Numerics.Distributions.Beta.CDF(Share.Good, Share.Bad, minimum);

    private static double YearsGoodFrom(AgingCurve curve, double years)
    {
        var least = GoodShare * curve.ShareAt(0);
        var (low, high) = (0.0, 2 * curve.HalfYears);
        for (var halving = 0; halving < 30; halving++)
        {
            var middle = (low + high) / 2;
            (low, high) = curve.ShareAt(middle) > least ? (middle, high) : (low, middle);
        }

        return Math.Max(0, low - years);
    }
}
