using System.Globalization;
using Chamber.Core.Seeds;

namespace Chamber.Service.Home.Answers;

/// <summary>Lots in words.</summary>
internal static class LotWords
{
    /// <summary>That fewer seeds are left than are wanted.</summary>
    public static string Only(Core.Seeds.LotId lot, int left) => left == 0 ? $"Nothing of {lot} is left."
        : $"Only {CountText.Of(left, "seed")} of {lot} {(left == 1 ? "is" : "are")} left.";

    public static string Advice(LotState lot) => lot.Advice switch
    {
        LotAdvice.UseFirst => "use first",
        LotAdvice.TestFirst => "test first",
        LotAdvice.Replace => "replace",
        LotAdvice.Empty => "none left",
        _ => "keep",
    };

    /// <summary>What somebody recorded of it, one line each; what nobody did is left out.</summary>
    public static IEnumerable<(string Name, string Value)> WrittenDown(Lot lot)
    {
        var year = lot.Year is { } known ? $", {Choice.Words(lot.YearKind)} {known.ToString(CultureInfo.InvariantCulture)}" : "";
        yield return ("Origin", $"{Choice.Words(lot.Origin)}{year}{(lot.Parent is { } parent ? $", from {parent}" : "")}");
        yield return ("Kept", Choice.Words(lot.Storage));
        if (lot.Variety is { } variety)
        {
            yield return ("Variety", variety);
        }

        if (lot.Price is { } price)
        {
            yield return ("Price", price == 0 ? "a gift" : string.Create(CultureInfo.InvariantCulture, $"{price:0.00}"));
        }

        if (lot.StatedShare is { } stated)
        {
            yield return ("Packet says", $"{RangeText.Percent(stated)} come up");
        }

        if (lot.Note is { } note)
        {
            yield return ("Note", note);
        }
    }

    /// <summary>What would be expected of it without any test or batch, and from what.</summary>
    public static string FromAge(LotState lot)
    {
        var packet = lot.Lot.StatedShare is { } stated ? $"the {RangeText.Percent(stated)} on the packet" : null;
        return lot.Belief.Age is { } age
            ? string.Create(CultureInfo.InvariantCulture,
                $"From {(packet is null ? "" : $"{packet}, ")}its age ({age.Years:0.#} years) and where it is kept, "
                + $"{lot.Belief.FromAge * 100:0} % would be expected.")
            : string.Create(CultureInfo.InvariantCulture,
                $"Nobody knows its age; {lot.Belief.FromAge * 100:0} % is a guess from {packet ?? "the crop alone"}.");
    }

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
            $"Half of a usual lot of {lot.Crop.CommonName} lasts {longevity.HalfYears:0.#} years at 20 °C and 50 % humidity ({basis}).{sellers}");
    }
}
