using System.Globalization;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>One thing that other homes' batches have taught, as a factor on the time that the table says.</summary>
/// <param name="Kind">What it is about.</param>
/// <param name="Name">Which crop, method or kind of spot.</param>
/// <param name="Low">Low end of the 80 % interval of a home in the middle; 0.8 is a fifth less time.</param>
/// <param name="Mid">The middle.</param>
/// <param name="High">High end.</param>
/// <param name="Homes">From how many homes it comes.</param>
/// <param name="IsProved">Whether the whole interval lies on one side of the table.</param>
/// <param name="Words">The same in a sentence.</param>
public sealed record LearnedElsewhere(FactorKind Kind, string Name, double Low, double Mid, double High, int Homes, bool IsProved,
    string Words)
{
    /// <summary>z of the 80 % interval.</summary>
    private const double Eighty = 1.2815515655446004;

    internal static LearnedElsewhere Of(SharedFactor factor, (double Mean, double Variance) sum)
    {
        var reach = Eighty * Math.Sqrt(sum.Variance);
        var (low, mid, high) = (Math.Exp(sum.Mean - reach), Math.Exp(sum.Mean), Math.Exp(sum.Mean + reach));
        var proved = high < 1 || low > 1;
        var from = string.Create(CultureInfo.InvariantCulture, $"from {factor.Homes} {(factor.Homes == 1 ? "home" : "homes")}");
        return new(factor.Kind, factor.Name, low, mid, high, factor.Homes, proved, FactorWords.Say(
            FactorWords.Subject(factor.Kind, factor.Name, factor.ShownName, "in other homes"), from, (low, mid, high), proved));
    }
}
