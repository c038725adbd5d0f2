using MathNet.Numerics.Distributions;
using NodaTime;

namespace Chamber.Core.Plans;

/// <summary>
/// The last frost of spring: not a date but a chance for each date, here normal about a middle day. The user gives one date and
/// the chance of a frost after it, since that is how weather services print it.
/// </summary>
public sealed record LastFrost
{
    /// <summary>
    /// Standard deviation in days: 17.5 over 1.28, since the date that leaves one chance in two and the one that leaves one in ten lie 15
    /// days apart at Georgetown, Delaware (W. J. Moyer, ESSA and Univ. of Maryland, 1970, as reprinted by Univ. of Delaware) and 20 at
    /// Milton-Freewater, Oregon (a seed house's reprint of station normals). Two places are few; the user's own two dates replace it.
    /// </summary>
    public const double UsualDeviationDays = 13.7;

    private readonly double deviationDays;

    /// <param name="date">A date of the year in question.</param>
    /// <param name="chanceAfter">The chance of a frost after that date; above 0, below 1. 0.5 for an "average last frost".</param>
    /// <param name="deviationDays">How much the last frost varies from year to year, positive.</param>
    public LastFrost(LocalDate date, double chanceAfter = 0.5, double deviationDays = UsualDeviationDays)
    {
        if (chanceAfter is not (> 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(chanceAfter), chanceAfter,
                "The chance of a frost after the date must lie between 0 and 1, such as 0.5.");
        }

        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(deviationDays);
        this.deviationDays = deviationDays;
        Median = date.PlusDays((int)Math.Round(Normal.InvCDF(0, deviationDays, chanceAfter)));
    }

    /// <summary>The day before which the last frost comes in half of all years; offsets of crops are counted from it.</summary>
    public LocalDate Median { get; }

    /// <summary>The chance of a frost after a day.</summary>
    public double ChanceAfter(LocalDate day) =>
        1 - Normal.CDF(0, deviationDays, Period.DaysBetween(Median, day));

    /// <summary>The first day after which the chance of frost is at most so much.</summary>
    public LocalDate DayWithChance(double chance) =>
        Median.PlusDays((int)Math.Ceiling(Normal.InvCDF(0, deviationDays, 1 - chance) - 1e-9));
}
