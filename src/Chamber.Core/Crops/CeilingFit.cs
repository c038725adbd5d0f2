using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Crops;

/// <summary>
/// Fits how the ceilings of a crop's seeds lie to the warm cells of its row of the emergence table: the shares that came up, by least
/// squares, and the days against the fastest, with Huber's loss on errors in units of the table's rounding. Where cells say little, the
/// middle ceiling tends to the highest temperature of the handbooks, the spread to 2.5 K and the fall to 3 K: what the rows that say much
/// have in the middle. The search runs over a fixed grid, so the same table always gives the same numbers.
/// </summary>
internal static class CeilingFit
{
    private const double ShareWeight = 40;
    private const double DaysWeight = 0.1;
    private const double UsualMedian = 35;
    private const double UsualSpread = 2.5;
    private const double UsualFall = 3;

    private static readonly double[] Falls = [1, 1.5, 2, 3, 4, 5, 6, 8];

    /// <param name="cells">One row of the table.</param>
    /// <param name="plateau">Where the fastest temperatures begin, °C: heat slows nothing below it.</param>
    /// <param name="handbookMaximum">The highest temperature at which a handbook says that the crop comes up, or null.</param>
    public static SeedCeilings Fit(IReadOnlyList<EmergenceCell> cells, double plateau, Temperature? handbookMaximum)
    {
        var fastest = cells.Where(cell => cell.HasDays).OrderBy(cell => cell.Days).ThenBy(cell => cell.Temperature).First();
        var best = cells.Max(cell => cell.Share ?? 0);
        var warmSide = Math.Min(
            fastest.Temperature.Celsius,
            cells.Where(cell => cell.Share >= best - 1e-9).Max(cell => cell.Temperature.Celsius));
        (double T, double Share)[] shares = [.. cells.Where(cell => cell.Share is not null && cell.Temperature.Celsius >= warmSide)
            .Select(cell => (cell.Temperature.Celsius, cell.Share!.Value / best))];
        (double T, double Days)[] days = [.. cells.Where(cell => cell.HasDays && cell.Temperature > fastest.Temperature)
            .Select(cell => (cell.Temperature.Celsius, cell.Days!.Value))];
        var usual = handbookMaximum?.Celsius ?? UsualMedian;
        var found = (Loss: double.PositiveInfinity, Median: 0.0, Spread: 0.0, Fall: 0.0);
        for (var median = 18.0; median <= 46; median += 0.25)
        {
            for (var spread = 0.5; spread <= 10; spread += 0.5)
            {
                var outer = shares.Sum(cell => ShareWeight * Square(SeedCeilings.Above(cell.T, median, spread) - cell.Share))
                    + 0.01 * Square(Math.Log(spread / UsualSpread)) + 0.0005 * Square(median - usual);
                if (outer >= found.Loss)
                {
                    continue;
                }

                foreach (var fall in Falls.Where(fall => SeedCeilings.Pace(plateau, median, spread, fall) >= 1))
                {
                    var loss = outer + 0.03 * Square(Math.Log(fall / UsualFall)) + days.Sum(cell =>
                        DaysWeight * Slowness(cell, fastest.Days!.Value, SeedCeilings.Pace(cell.T, median, spread, fall)));
                    if (loss < found.Loss - 1e-9)
                    {
                        found = (loss, median, spread, fall);
                    }
                }
            }
        }

        return new(Temperature.FromCelsius(found.Median), found.Spread, found.Fall);
    }

    private static double Slowness((double T, double Days) cell, double fastest, double pace)
    {
        var error = Math.Abs(Math.Log(cell.Days / fastest * Math.Max(pace, 0.02))) / Math.Sqrt(Square(0.5 / cell.Days) + 0.01);
        return error < 1 ? error * error / 2 : error - 0.5;
    }

    private static double Square(double value) => value * value;
}
