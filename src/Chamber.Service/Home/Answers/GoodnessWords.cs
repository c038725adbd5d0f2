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
                    + "compare the days above.";
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

        if (fit.Choice is { } choice)
        {
            yield return LeftOut(choice);
        }
    }

    private static string LeftOut(TrialChoice choice)
    {
        var (inside, edges) = (choice.Inside, choice.Edges);
        var serves = (inside.SmoothIsBetter, edges.SmoothIsBetter) switch
        {
            (false, false) => "Forecasts go by the law.",
            (true, true) => "Forecasts go by the smooth curve, and beyond what was tried by its run.",
            (true, false) => "Forecasts go by the smooth curve, and beyond what was tried by the law.",
            _ => "Forecasts go by the law, and beyond what was tried by the run of the smooth curve.",
        };
        return $"Foretold from the others alone, temperatures between are off by {Percent(inside.Law)} % by the law and "
            + $"{Percent(inside.Smooth)} % by a smooth curve, the coldest and the warmest by {Percent(edges.Law)} % and "
            + $"{Percent(edges.Smooth)} %. {serves}";
    }

    private static string Percent(double log) => PlainText.Number(100 * (Math.Exp(log) - 1), 0);

    private static string Rarely(double chance) =>
        chance < 0.0001 ? "less than one in 10,000" : $"one in {PlainText.Number(1 / chance, 0)}";
}
