using System.Globalization;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>How far lots, methods or crops of this home lie apart, beside what is assumed of any home, or what other homes have
/// taught.</summary>
/// <param name="Kind">Lot, method or crop.</param>
/// <param name="Times">By what the assumed variance of ln warm-hours is multiplied: the mean of what is believed.</param>
/// <param name="Batches">How many batches stand behind it.</param>
/// <param name="Of">How many lots, methods or crops they are of.</param>
/// <param name="Words">The same in a sentence.</param>
public sealed record LearnedVariance(FactorKind Kind, double Times, int Batches, int Of, string Words)
{
    internal static LearnedVariance Said(FactorKind kind, double times, int batches, int of, bool besideOthers = false)
    {
        var change = Math.Sqrt(times) - 1;
        var (one, many) = kind switch
        {
            FactorKind.Lot => ("lot", "lots"),
            FactorKind.Method => ("method", "methods"),
            _ => ("crop", "crops"),
        };
        var percent = Math.Round(100 * Math.Abs(change), MidpointRounding.AwayFromZero);
        var apart = percent == 0 ? "as far apart as" : string.Create(CultureInfo.InvariantCulture,
            $"{percent:0} % {(change < 0 ? "closer together" : "further apart")} than");
        var known = kind == FactorKind.Crop ? $"{many} here lie from their tables {(percent == 0 ? "as far as" : string.Create(
            CultureInfo.InvariantCulture, $"{percent:0} % {(change < 0 ? "less" : "more")} than"))}" : $"{many} here lie {apart}";
        return new(kind, times, batches, of, string.Create(CultureInfo.InvariantCulture,
            $"{known} {(besideOthers ? "in other homes" : "is assumed of any home")}; from {batches} batches of {of} "
                + $"{(of == 1 ? one : many)}"));
    }
}
