using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Crops;

/// <summary>What a fit of one row of the emergence table found.</summary>
/// <param name="Cardinals">Base, plateau and ceiling, to 0.1 °C.</param>
/// <param name="HalfWarmHours">θ50, to 1 °C·h.</param>
/// <param name="LogDeviation">Root mean square of ln(predicted days / table days) over the fitted cells.</param>
/// <param name="WorstDays">The largest error of a fitted cell, days.</param>
public sealed record TableFit(CardinalTemperatures Cardinals, WarmHours HalfWarmHours, double LogDeviation, double WorstDays);

/// <summary>
/// Fits base, plateau, ceiling and θ50 to days of emergence at steady temperatures, days = θ50 / (24 E(T)), the foot given. The rising
/// part uses the cells from 10 °C to the fastest temperature; those above it give the seeds' ceilings (<see cref="CeilingFit"/>). Colder
/// cells are never fitted: they judge the foot. The loss is Huber's (P.J. Huber, Robust Estimation of a Location Parameter, 1964) on
/// errors in units of √(0.4² + (0.05 days)²): the table's own rounding to whole days and a twentieth of the days, so that one odd cell
/// does not drag the others. The search runs over a fixed grid, so the same table always gives the same profile.
/// </summary>
public static class EmergenceTableFit
{
    private const double CoolestFitted = 10;
    private const double BaseStep = 0.1;
    private const double PlateauStep = 0.5;

    // A base far below freezing fits no crop better than this one does; the search has to end somewhere.
    private const double CoolestBase = -5;

    /// <param name="cells">One row of the table.</param>
    /// <param name="handbookMaximum">The highest temperature at which a handbook says that the crop comes up, or null.</param>
    /// <param name="foot">The foot of the curve, K.</param>
    /// <exception cref="ArgumentException">Fewer than two cells of the rising part have days.</exception>
    public static TableFit Fit(IReadOnlyList<EmergenceCell> cells, Temperature? handbookMaximum,
        double foot = CardinalTemperatures.UsualFootKelvins)
    {
        var timed = cells.Where(cell => cell.HasDays).Select(cell => (T: cell.Temperature.Celsius, Days: cell.Days!.Value))
            .OrderBy(cell => cell.T).ToArray();
        var fastest = timed.OrderBy(cell => cell.Days).ThenBy(cell => cell.T).FirstOrDefault();
        var rising = timed.Where(cell => cell.T >= CoolestFitted && cell.T <= fastest.T).ToArray();
        if (rising.Length < 2)
        {
            throw new ArgumentException("A fit needs days at two or more temperatures from 10 °C to the fastest.", nameof(cells));
        }

        var (@base, plateau, theta) = FitRising(rising, fastest.T, foot);
        var cardinals = new CardinalTemperatures(
            Temperature.FromCelsius(@base), Temperature.FromCelsius(plateau), CeilingFit.Fit(cells, plateau, handbookMaximum), foot);
        return Judge(cardinals, WarmHours.FromCelsiusHours(Math.Round(theta * 24)), rising);
    }

    /// <summary>Days to half at a steady temperature, or null where the profile makes no progress.</summary>
    public static double? DaysAt(CardinalTemperatures cardinals, WarmHours half, Temperature temperature) =>
        cardinals.EffectiveWarmth(temperature) is > 0 and var warmth ? half.CelsiusHours / 24 / warmth : null;

    /// <summary>Fits every row of the shipped table again: the text of the shipped file of fits, to be compared with it or put in its
    /// place.</summary>
    public static string RebuildShipped() => CatalogReader.FitsAsCsv();

    private static (double Base, double Plateau, double Theta) FitRising((double T, double Days)[] cells, double fastest, double foot)
    {
        var best = (Loss: double.PositiveInfinity, Base: 0.0, Plateau: 0.0, Theta: 0.0);
        var firstPlateau = cells.Length > 2 ? cells[^2].T : fastest;
        for (var plateau = firstPlateau; plateau <= fastest; plateau += PlateauStep)
        {
            // With a foot the base may lie above a temperature at which seed comes up, but not above the plateau.
            var warmest = Math.Min(cells[0].T - 0.5 + foot / 2, plateau - 0.5);
            var bases = (int)Math.Floor((warmest - CoolestBase) / BaseStep);
            for (var i = 0; i <= bases; i++)
            {
                var @base = Math.Round(CoolestBase + i * BaseStep, 1);
                var (loss, theta) = BestTheta(cells, cell => CardinalTemperatures.Rising(Math.Min(cell, plateau) - @base, foot));
                if (loss < best.Loss - 1e-9)
                {
                    best = (loss, @base, plateau, theta);
                }
            }
        }

        return (best.Base, best.Plateau, best.Theta);
    }

    /// <summary>The loss is convex in θ, so a golden section finds its only minimum.</summary>
    private static (double Loss, double Theta) BestTheta((double T, double Days)[] cells, Func<double, double> warmth)
    {
        const double Section = 0.6180339887498949;
        var low = cells.Min(cell => cell.Days * warmth(cell.T));
        var high = cells.Max(cell => cell.Days * warmth(cell.T));
        while (high - low > 1e-4)
        {
            var left = high - Section * (high - low);
            var right = low + Section * (high - low);
            if (Loss(cells, left, warmth) <= Loss(cells, right, warmth))
            {
                high = right;
            }
            else
            {
                low = left;
            }
        }

        return (Loss(cells, low, warmth), low);
    }

    private static double Loss((double T, double Days)[] cells, double theta, Func<double, double> warmth)
    {
        var sum = 0.0;
        foreach (var (temperature, days) in cells)
        {
            sum += Huber((theta / warmth(temperature) - days) / Math.Sqrt(0.4 * 0.4 + 0.05 * days * 0.05 * days));
        }

        return sum;
    }

    private static double Huber(double error) => Math.Abs(error) is < 1 and var small ? small * small / 2 : Math.Abs(error) - 0.5;

    private static TableFit Judge(CardinalTemperatures cardinals, WarmHours half, (double T, double Days)[] cells)
    {
        var predicted = cells.Select(cell => DaysAt(cardinals, half, Temperature.FromCelsius(cell.T))!.Value).ToArray();
        return new(
            cardinals,
            half,
            Math.Round(Math.Sqrt(cells.Zip(predicted, (cell, days) => Math.Pow(Math.Log(days / cell.Days), 2)).Average()), 3),
            Math.Round(cells.Zip(predicted, (cell, days) => Math.Abs(days - cell.Days)).Max(), 1));
    }
}
