using Chamber.Core.Climate;
using Chamber.Core.Crops;
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

    /// <summary>Whether any seed comes up at a steady temperature.</summary>
    public static bool IsPossibleAt(StandCurve stand, Temperature temperature) => stand.RelativeAt(temperature) > None;

    /// <summary>The same over changing temperatures.</summary>
    public static bool IsPossibleAlong(StandCurve stand, WarmthCourse course) => course.MeanOf(stand.RelativeAt) > None;

    /// <summary>The same over a spot's usual day.</summary>
    public static bool IsPossibleOver(StandCurve stand, HourOfDayProfile usual) =>
        usual.Hours.Any(hour => hour is { } known && stand.RelativeAt(known.Mean) > None);

    /// <summary>The belief at a steady temperature.</summary>
    public static ShareBelief At(ShareBelief lot, StandCurve stand, Temperature temperature) =>
        Scaled(lot, stand.RelativeAt(temperature));

    /// <summary>The belief over changing temperatures, each weighted by its time.</summary>
    public static ShareBelief Along(ShareBelief lot, StandCurve stand, WarmthCourse course) =>
        Scaled(lot, course.MeanOf(stand.RelativeAt));

    /// <summary>The belief over a spot's usual day.</summary>
    /// <exception cref="ArgumentException">No hour of the day was measured.</exception>
    public static ShareBelief Over(ShareBelief lot, StandCurve stand, HourOfDayProfile usual)
    {
        var hours = usual.Hours.Where(hour => hour is not null).Select(hour => stand.RelativeAt(hour!.Value.Mean)).ToArray();
        return hours.Length > 0
            ? Scaled(lot, hours.Average())
            : throw new ArgumentException("No hour of this spot's day was measured.", nameof(usual));
    }

    private static ShareBelief Scaled(ShareBelief lot, double factor) =>
        factor >= 1 ? lot : ShareBelief.Around(lot.Mean * factor, Math.Max(lot.Weight, 2));
}
