using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Needs;
using Chamber.Core.Statistics;

namespace Chamber.Core.Forecasts;

/// <summary>The share that can come up: what the lot is good for, times what the temperature leaves of it.</summary>
public static class Germinability
{
    /// <summary>
    /// A lot of which nothing is known: 85 %, as sure as ten seeds would make it. An assumption: a little above the legal minimum of
    /// most vegetables (7 CFR 201.31).
    /// </summary>
    public static ShareBelief UnknownLot { get; } = ShareBelief.Around(0.85, 10);

    /// <summary>An unknown lot of a crop: the user's own share where there is one, as sure as ten seeds would make it.</summary>
    public static ShareBelief OfUnknownLot(Crop crop) =>
        crop.OwnShare is { } share ? ShareBelief.Around(share, UnknownLot.Weight) : UnknownLot;

    /// <summary>Less than this of the best share is none.</summary>
    private const double None = 0.02;

    /// <summary>However unsure the ceilings, the belief stays worth more than the one seed that a belief needs.</summary>
    private const double LeastWeight = 1.1;

    /// <summary>Three-point Gauss-Hermite rule for a standard normal variable (M. Abramowitz and I. A. Stegun, 1964, table 25.10,
    /// rescaled).</summary>
    private static readonly (double Deviate, double Weight)[] Hermite = [(-Math.Sqrt(3), 1 / 6.0), (0, 2 / 3.0), (Math.Sqrt(3), 1 / 6.0)];

    /// <summary>Whether any seed comes up at a steady temperature.</summary>
    public static bool IsPossibleAt(StandCurve stand, Temperature temperature) => stand.RelativeAt(temperature) > None;

    /// <summary>The same over changing temperatures.</summary>
    public static bool IsPossibleAlong(StandCurve stand, WarmthCourse course) => course.StandShare(stand, 0) > None;

    /// <summary>The same over a spot's usual day.</summary>
    public static bool IsPossibleOver(Crop crop, HourOfDayProfile usual) => Over(crop, usual, 0) is > None;

    /// <summary>The belief at a steady temperature.</summary>
    public static ShareBelief At(ShareBelief lot, StandCurve stand, Temperature temperature) =>
        Scaled(lot, stand, warmer => stand.RelativeAt(temperature, warmer));

    /// <summary>The belief over changing temperatures, day by day (<see cref="StandTally"/>).</summary>
    public static ShareBelief Along(ShareBelief lot, StandCurve stand, WarmthCourse course) =>
        Scaled(lot, stand, warmer => course.StandShare(stand, warmer));

    /// <summary>The belief over a spot's usual day.</summary>
    /// <exception cref="ArgumentException">No hour of the day was measured.</exception>
    public static ShareBelief Over(ShareBelief lot, Crop crop, HourOfDayProfile usual) =>
        Scaled(lot, crop.Stand, warmer => Over(crop, usual, warmer)
            ?? throw new ArgumentException("No hour of this spot's day was measured.", nameof(usual)));

    /// <summary>A belief of seed that has had so much of the chill that it needs; the same without such a need.</summary>
    public static ShareBelief After(ChillState? chill, ShareBelief belief) =>
        chill is null ? belief : Scaled(belief, chill.Share, 0);

    private static double? Over(Crop crop, HourOfDayProfile usual, double warmer)
    {
        var known = usual.Hours.Where(hour => hour is not null).Select(hour => hour!.Value.Mean).ToArray();
        return known.Length > 0 ? StandTally.Over(crop, known, warmer).Share(crop.Stand, warmer) : null;
    }

    /// <summary>The lot's share times what the temperature leaves of it; where the ceilings of the lot are in doubt, so is what heat
    /// leaves, and the belief is the wider for it.</summary>
    private static ShareBelief Scaled(ShareBelief lot, StandCurve stand, Func<double, double> leaves)
    {
        if (stand.CeilingDoubtKelvins <= 0)
        {
            return Scaled(lot, leaves(0), 0);
        }

        var (mean, square) = (0.0, 0.0);
        foreach (var (deviate, weight) in Hermite)
        {
            var left = leaves(deviate * stand.CeilingDoubtKelvins);
            (mean, square) = (mean + weight * left, square + weight * left * left);
        }

        return Scaled(lot, mean, Math.Max(0, square - mean * mean));
    }

    private static ShareBelief Scaled(ShareBelief lot, double factor, double variance)
    {
        if (factor >= 1 && variance <= 0)
        {
            return lot;
        }

        // The beta distribution of this mean whose variance is the lot's own, as of so many seeds, and that of the factor.
        var share = lot.Mean * Math.Min(1, factor);
        var weight = Math.Max(lot.Weight, 2);
        var total = share * (1 - share) / (weight + 1) + lot.Mean * lot.Mean * variance;
        return ShareBelief.Around(share, variance <= 0 ? weight : Math.Max(LeastWeight, share * (1 - share) / Math.Max(total, 1e-9) - 1));
    }
}
