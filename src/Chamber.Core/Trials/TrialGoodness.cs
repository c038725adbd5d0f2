using MathNet.Numerics.Distributions;

namespace Chamber.Core.Trials;

/// <summary>How well the law that joins the temperatures holds.</summary>
/// <param name="Deviance">Twice the ln of the likelihood that each temperature's own curve gains over the law.</param>
/// <param name="Freedom">Its degrees of freedom: three numbers a temperature with seedlings, less those of the law.</param>
/// <param name="Chance">How often trials for which the law holds would lie as far off, the dishes' own differences allowed for; null
/// when there are too few temperatures to tell.</param>
/// <param name="DishDispersion">How much more the dishes of one temperature differ than chance alone would have it, 1 for as much; null
/// without a second dish anywhere.</param>
/// <param name="Dispersion">By what the squares of all intervals are widened, 1 or more (P. McCullagh and J. A. Nelder, Generalized
/// Linear Models, 1989, chapter 9).</param>
public sealed record TrialGoodness(double Deviance, int Freedom, double? Chance, double? DishDispersion, double Dispersion)
{
    /// <summary>Rarer than this, the law does not hold.</summary>
    private const double ChanceMin = 0.01;

    /// <summary>Whether the trials agree with the law.</summary>
    public bool Holds => Chance is not < ChanceMin;

    /// <summary>Fewer degrees of freedom than this tell nothing of dispersion.</summary>
    private const int FreedomMin = 3;

    internal static TrialGoodness Of(
        IReadOnlyList<OwnCurve> curves, IReadOnlyList<TrialCount> counts, double log, TrialSpreadChange? spreads)
    {
        var up = curves.Count(curve => curve.Trial.Up > 0);
        var deviance = Math.Max(0, 2 * (curves.Sum(curve => curve.Log) - log - (spreads?.Gain ?? 0)));
        var freedom = Math.Max(0, 3 * up - TrialPoint.Numbers - (spreads is null ? 0 : 1));
        var (dishes, dishFreedom) = Dishes(curves, counts);
        var between = dishFreedom > 0 ? dishes / dishFreedom : (double?)null;
        double? chance = freedom == 0 ? null
            : between is > 1 and var wide && dishFreedom >= FreedomMin
                ? 1 - FisherSnedecor.CDF(freedom, dishFreedom, deviance / freedom / wide)
                : 1 - ChiSquared.CDF(freedom, deviance);
        var lack = freedom >= FreedomMin ? deviance / freedom : 1;
        var dispersion = between is { } own && dishFreedom >= FreedomMin ? (chance < ChanceMin ? Math.Max(own, lack) : own) : lack;
        return new(deviance, freedom, chance, between, Math.Max(1, dispersion));
    }

    /// <summary>
    /// Pearson's chi-squared of how many of each dish were up at the end and by its temperature's half day, against what all dishes of the
    /// temperature say together.
    /// </summary>
    private static (double Squares, int Freedom) Dishes(IReadOnlyList<OwnCurve> curves, IReadOnlyList<TrialCount> counts)
    {
        var (squares, freedom) = (0.0, 0);
        foreach (var same in counts.Where(count => count.Count > 0 && count.Dish is not null).GroupBy(count => count.Temperature.Celsius))
        {
            var dishes = same.GroupBy(count => count.Dish).ToArray();
            var curve = curves.First(each => each.Trial.Celsius == same.Key);
            if (dishes.Length < 2 || curve.Trial.Up == 0)
            {
                continue;
            }

            foreach (var by in new[] { Math.Exp(curve.LogHalf), double.PositiveInfinity })
            {
                var seeds = Array.ConvertAll(dishes, dish => (
                    Up: dish.Where(count => count.ToDays <= by).Sum(count => count.Count),
                    All: dish.Sum(count => count.Count)));
                var share = seeds.Sum(dish => dish.Up) / (double)seeds.Sum(dish => dish.All);
                if (share is > 0 and < 1)
                {
                    squares += seeds.Sum(dish => Math.Pow(dish.Up - dish.All * share, 2) / (dish.All * share * (1 - share)));
                    freedom += dishes.Length - 1;
                }
            }
        }

        return (squares, freedom);
    }
}
