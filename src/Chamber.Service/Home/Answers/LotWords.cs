using System.Globalization;
using Chamber.Core.Seeds;

namespace Chamber.Service.Home.Answers;

/// <summary>Lots in words.</summary>
internal static class LotWords
{
    public static string Advice(LotState lot) => lot.Advice switch
    {
        LotAdvice.UseFirst => "use first",
        LotAdvice.TestFirst => "test some first",
        LotAdvice.Replace => "replace",
        LotAdvice.Empty => "none left",
        _ => "keep",
    };

    /// <summary>What its kind was measured to last, and beside it what sellers' tables give it.</summary>
    public static string Life(LotState lot)
    {
        var longevity = SeedLongevity.Of(lot.Crop);
        var basis = longevity.Basis switch
        {
            LongevityBasis.Measured => "measured",
            LongevityBasis.Scaled => "scaled from measurements",
            _ => "an assumption from its kind",
        };
        var sellers = lot.Crop.Guide?.LifeYears is { } years
            ? $" Sellers' tables say {years} {(years == 1 ? "year" : "years")}; no number here rests on that." : "";
        return string.Create(CultureInfo.InvariantCulture,
            $"Half of a usual lot of {lot.Crop.CommonName} lasts {longevity.HalfYears:0.#} years at 20 °C and 50 % ({basis}).{sellers}");
    }
}
