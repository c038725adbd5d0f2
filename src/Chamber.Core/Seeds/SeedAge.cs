using NodaTime;

namespace Chamber.Core.Seeds;

/// <summary>How old seed is, as well as the year on the packet can tell.</summary>
/// <param name="Years">Years since it ripened, likely; at least 0.</param>
/// <param name="YearsMax">The oldest it may well be.</param>
public readonly record struct SeedAge(double Years, double YearsMax)
{
    /// <summary>Seed ripens at the end of summer; in the southern half of the world half a year apart. Common practice, no
    /// source.</summary>
    private const double RipeIn = 0.7;

    /// <summary>A packet filled for a year holds seed of the autumn before, or older. A sow-by year is commonly two years later still.
    /// Common practice, no source.</summary>
    private const int PackedAfter = 1;
    private const int SowByAfter = 3;

    /// <summary>The age on a day, or null when the lot has no year.</summary>
    public static SeedAge? Of(Lot lot, LocalDate today)
    {
        ArgumentNullException.ThrowIfNull(lot);
        if (lot.Year is not { } year)
        {
            return null;
        }

        var now = today.Year + (today.DayOfYear - 1) / 365.25;
        var (likely, oldest) = lot.YearKind switch
        {
            LotYearKind.Harvested => (year, year),
            LotYearKind.PackedFor => (year - PackedAfter, year - PackedAfter - 1),
            _ => (year - SowByAfter, year - SowByAfter - 2),
        };
        return new(Math.Max(0, now - likely - RipeIn), Math.Max(0, now - oldest - RipeIn));
    }
}
