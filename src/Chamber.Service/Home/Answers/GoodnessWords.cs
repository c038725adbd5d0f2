using Chamber.Core.Trials;

namespace Chamber.Service.Home.Answers;

/// <summary>Says whether the law of a fit holds for its trials, and how well it foretells what it was not fitted to.</summary>
internal static class GoodnessWords
{
    public static IEnumerable<string> Of(TrialFit fit)
    {
        var goodness = fit.Goodness;
        if (goodness.Chance is not { } chance)
        {
            yield return "There are too few temperatures to tell whether one law joins them.";
        }
        else
        {
            var deviance = $"deviance {PlainText.Number(goodness.Deviance)} of {goodness.Freedom} degrees of freedom";
            yield return goodness.Holds
                ? $"One law for all temperatures agrees with what each says by itself ({deviance})."
                : $"One law for all temperatures does not agree with what each says by itself ({deviance}; by chance {Rarely(chance)}): "
                    + "compare the days above, and trust the temperatures you sow at more than the law.";
        }

        if (fit.SpreadChange is { } change)
        {
            yield return $"Seeds of one trial lie {(change.AtWarmest > change.AtColdest ? "further apart" : "closer together")} where it is "
                + $"warm: spread {PlainText.Number(change.AtColdest, 2)} at {PlainText.Number(change.Coldest.Celsius)} °C and "
                + $"{PlainText.Number(change.AtWarmest, 2)} at {PlainText.Number(change.Warmest.Celsius)} °C (by chance "
                + $"{Rarely(change.Chance)}); the law is judged by that, and so are forecasts from it.";
        }

        if (goodness.DishDispersion is { } dishes)
        {
            yield return $"Dishes of one temperature differ {PlainText.Number(dishes)} times as much as chance would have it.";
        }

        if (goodness.Dispersion > 1.005)
        {
            yield return $"The intervals are {PlainText.Number(Math.Sqrt(goodness.Dispersion), 2)} times as wide for that.";
        }

        if (LeftOut(fit) is { } foretold)
        {
            yield return foretold;
        }
    }

    private static string? LeftOut(TrialFit fit)
    {
        var both = fit.Curves
            .Where(curve => curve is { HalfDays: not null, SmoothHalfDays: not null }).ToArray();
        if (both.Length == 0)
        {
            return null;
        }

        var law = Error(both.Select(curve => (curve.WithoutHalfDays ?? double.PositiveInfinity) / curve.HalfDays!.Value));
        var smooth = Error(both.Select(curve => curve.SmoothHalfDays!.Value / curve.HalfDays!.Value));
        var verdict = law <= smooth ? "no worse than a smooth curve" : "worse than a smooth curve";
        return $"Each temperature foretold from the others alone is off by {PlainText.Number(100 * law, 0)} % by the law, {verdict} "
            + $"({PlainText.Number(100 * smooth, 0)} %).";
    }

    /// <summary>Root mean square of ln of the ratios, each counted as 2 at most, as a share: what is never foretold counts so.</summary>
    private static double Error(IEnumerable<double> ratios) =>
        Math.Exp(Math.Sqrt(ratios.Average(ratio => Math.Pow(Math.Min(2, Math.Abs(Math.Log(ratio))), 2)))) - 1;

    private static string Rarely(double chance) =>
        chance < 0.0001 ? "less than one in 10,000" : $"one in {PlainText.Number(1 / chance, 0)}";
}
