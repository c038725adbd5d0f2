using System.Globalization;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>One thing that this home has taught, as a factor on the time that the table says.</summary>
/// <param name="Kind">What it is about.</param>
/// <param name="Name">Which crop, method or lot; "home" for the home.</param>
/// <param name="Low">Low end of the 80 % interval; 0.8 is a fifth less time.</param>
/// <param name="Mid">The middle.</param>
/// <param name="High">High end.</param>
/// <param name="Batches">How many batches stand behind it.</param>
/// <param name="IsProved">Whether the whole interval lies on one side of the table.</param>
/// <param name="Words">The same in a sentence.</param>
public sealed record LearnedFactor(FactorKind Kind, string Name, double Low, double Mid, double High, int Batches,
    bool IsProved, string Words)
{
    /// <summary>z of the 80 % interval.</summary>
    private const double Eighty = 1.2815515655446004;

    internal static LearnedFactor Of(Factor factor, string name, (double Mean, double Variance) sum, int batches)
    {
        var reach = Eighty * Math.Sqrt(sum.Variance);
        var (low, mid, high) = (Math.Exp(sum.Mean - reach), Math.Exp(sum.Mean), Math.Exp(sum.Mean + reach));
        var proved = high < 1 || low > 1;
        return new(factor.Kind, factor.Name, low, mid, high, batches, proved, Say(factor, name, low, mid, high, batches, proved));
    }

    private static string Say(Factor factor, string name, double low, double mid, double high, int batches, bool proved)
    {
        var from = batches == 1 ? "from 1 batch" : string.Create(CultureInfo.InvariantCulture, $"from {batches} batches");
        return FactorWords.Say(FactorWords.Subject(factor.Kind, factor.Name, name, "here"), from, (low, mid, high), proved);
    }
}
