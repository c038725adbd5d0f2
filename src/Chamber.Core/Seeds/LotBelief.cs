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
/// <param name="YearsLeft">Years until the end of its life in that store; negative past it; null without a year.</param>
/// <param name="LeftOut">Evidence that was not used, since it was not fair to the seed.</param>
public sealed record LotBelief(
    ShareBelief Share,
    double FromAge,
    SeedAge? Age,
    double? YearsLeft,
    IReadOnlyList<LotEvidence> LeftOut)
{
    /// <summary>Age, crop and storage weigh as much as four seeds: a test of ten already outweighs them. Common practice, no source.</summary>
    public const double PriorSeeds = 4;

    /// <summary>A germination stated on the packet comes from a laboratory test, if an old one: eight seeds. An assumption.</summary>
    public const double StatedSeeds = 8;

    /// <summary>Seed of which nobody knows the age is believed to be so old.</summary>
    private const double YearsUnknown = 3;

    /// <summary>Learns from everything known of a lot on a day. Old evidence is carried forward along the aging curve.</summary>
    public static LotBelief Of(Lot lot, Crop crop, IEnumerable<LotEvidence> evidence, LocalDate today)
    {
        var curve = AgingCurve.Of(lot, crop);
        var age = SeedAge.Of(lot, today);
        var years = age?.Years ?? YearsUnknown;
        var now = curve.ShareAt(years);
        var prior = ShareBelief.Around(now, lot.StatedShare is null ? PriorSeeds : StatedSeeds);
        var (good, bad) = (prior.Good, prior.Bad);
        List<LotEvidence> leftOut = [];
        foreach (var item in evidence)
        {
            // A poor share where the conditions were unfair says nothing; a good one in spite of them does.
            if (!item.Fair && item.Count.Share < now)
            {
                leftOut.Add(item);
                continue;
            }

            var since = Period.DaysBetween(item.On, today) / 365.25;
            var kept = since <= 0 ? 1 : now / curve.ShareAt(Math.Max(0, years - since));
            good += item.Count.Up * kept;
            bad += item.Count.Seeds - item.Count.Up * kept;
        }

        return new(new(good, bad), now, age, age is null ? null : curve.LifeYears - years, leftOut);
    }

    /// <summary>The chance that the lot meets a legal minimum today.</summary>
    public double ChanceOfMeeting(double minimum) =>
        1 - MathNet.Numerics.Distributions.Beta.CDF(Share.Good, Share.Bad, minimum);
}
