using System.Globalization;
using Chamber.Core.Crops;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>What this home has taught of a crop's base or of the spread of its seeds, beside the table's.</summary>
/// <param name="Kind">Base or spread.</param>
/// <param name="Crop">The crop's name.</param>
/// <param name="Table">The table's value: °C for a base, σ of ln warm-hours for a spread.</param>
/// <param name="Low">Low end of the 80 % interval, in the same unit.</param>
/// <param name="Mid">The middle.</param>
/// <param name="High">High end.</param>
/// <param name="Batches">How many batches stand behind it.</param>
/// <param name="CoolestCelsius">At which temperature the coolest of them stood on the mean; null where that is not known.</param>
/// <param name="WarmestCelsius">The warmest.</param>
/// <param name="IsProved">Whether the whole interval lies on one side of the table.</param>
/// <param name="Words">The same in a sentence.</param>
public sealed record LearnedShape(FactorKind Kind, string Crop, double Table, double Low, double Mid, double High, int Batches,
    double? CoolestCelsius, double? WarmestCelsius, bool IsProved, string Words)
{
    /// <summary>z of the 80 % interval.</summary>
    private const double Eighty = 1.2815515655446004;

    /// <summary>Batches that stood nearer together than this tell a level and no base, K.</summary>
    private const double LeastApart = 3;

    /// <summary>With more of the doubt left than this, nothing was learned.</summary>
    private const double MostDoubt = 0.9;

    internal static LearnedShape? Of(Factor factor, (double Mean, double Variance) known, IReadOnlyList<BatchEvidence> batches)
    {
        var deviation = Math.Sqrt(known.Variance);
        if (batches.Count == 0 || deviation > MostDoubt * factor.PriorDeviation)
        {
            return null;
        }

        var profile = batches[0].Kind.Profile;
        var crop = NameOf(batches[0].Kind);
        var (low, high) = (known.Mean - Eighty * deviation, known.Mean + Eighty * deviation);
        var stood = batches.Select(batch => batch.Stood?.Celsius).OfType<double>().DefaultIfEmpty(double.NaN).ToArray();
        var (coolest, warmest) = (Number(stood.Min()), Number(stood.Max()));
        if (factor.Kind == FactorKind.Base && !(warmest - coolest >= LeastApart))
        {
            return null;
        }

        var from = From(batches.Count, coolest, warmest);
        var proved = low > 0 || high < 0;
        return factor.Kind == FactorKind.Base
            ? new(factor.Kind, factor.Name, profile.Cardinals.Base.Celsius, At(low), At(known.Mean), At(high), batches.Count, coolest,
                warmest, proved, BaseWords(crop, known.Mean, low, high, At(known.Mean), from))
            : new(factor.Kind, factor.Name, profile.Spread, Times(low), Times(known.Mean), Times(high), batches.Count, coolest,
                warmest, proved, SpreadWords(crop, known.Mean, low, high, from));

        double At(double kelvins) => profile.Cardinals.Base.Celsius + kelvins;

        double Times(double log) => profile.Spread * Math.Exp(log);

        static double? Number(double celsius) => double.IsNaN(celsius) ? null : celsius;
    }

    private static string NameOf(BatchKind kind) => (kind.Method.Event(), kind.Profile.Event) switch
    {
        var (counted, table) when counted == table => kind.CropName,
        (EmergenceEvent.RootSeen, _) => $"{kind.CropName}, by their roots,",
        _ => $"{kind.CropName}, by their shoots,",
    };

    private static string BaseWords(string crop, double mid, double low, double high, double celsius, string from) =>
        Text($"the base of {crop} here is {Kelvins(mid)} than the table's, {celsius:0.0} °C; {from}; ")
            + $"likely between {Kelvins(low)} and {Kelvins(high)}";

    private static string Kelvins(double kelvins) => Text($"{Math.Abs(kelvins):0.0} K {(kelvins < 0 ? "lower" : "higher")}");

    private static string SpreadWords(string crop, double mid, double low, double high, string from) =>
        $"seeds of {crop} here come up {Wide(mid)} {(Percent(mid) < 0.5 ? "as" : "than")} in the table; {from}; likely between "
            + (low < 0 == high < 0
                ? Text($"{Math.Min(Percent(low), Percent(high)):0} and {Math.Max(Percent(low), Percent(high)):0} %")
                : $"{Wide(low)} and {Wide(high)}");

    private static string Wide(double log) => Percent(log) < 0.5 ? "just as close together"
        : Text($"{Percent(log):0} % {(log < 0 ? "closer together" : "further apart")}");

    private static double Percent(double log) => Math.Abs(Math.Exp(log) - 1) * 100;

    private static string From(int batches, double? coolest, double? warmest)
    {
        var count = batches == 1 ? "from 1 batch" : Text($"from {batches} batches");
        return coolest is not { } low || warmest is not { } high ? count
            : high - low < 0.5 ? Text($"{count} at {low:0} °C")
            : Text($"{count} at {low:0} to {high:0} °C");
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
