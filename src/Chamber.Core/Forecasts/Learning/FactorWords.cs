using System.Globalization;
using Chamber.Core.Crops;
using Chamber.Core.Spots;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>What a factor says in words, here or elsewhere.</summary>
internal static class FactorWords
{
    /// <param name="subject">What is faster or slower, and than what.</param>
    /// <param name="from">What stands behind it.</param>
    /// <param name="factor">The factor on the time, with its 80 % interval.</param>
    /// <param name="proved">Whether the whole interval lies on one side of 1.</param>
    public static string Say((string Subject, string Against) subject, string from, (double Low, double Mid, double High) factor,
        bool proved)
    {
        var amount = Change(factor.Mid) == 0 ? $"{subject.Subject} as fast as {subject.Against}"
            : $"{subject.Subject} {Describe(factor.Mid)} than {subject.Against}";
        return proved
            ? $"{amount}; {from}; likely between {Smaller(factor.Low, factor.High)} and {Larger(factor.Low, factor.High)} %"
            : $"{amount}; {from}; likely between {Describe(factor.Low)} and {Describe(factor.High)}";
    }

    /// <param name="kind">What the factor is about.</param>
    /// <param name="name">Its name.</param>
    /// <param name="shown">What people call it.</param>
    /// <param name="where">"here", or in which homes.</param>
    public static (string Subject, string Against) Subject(FactorKind kind, string name, string shown, string where) => kind switch
    {
        FactorKind.Home => ($"{where} everything is", "the table"),
        FactorKind.Family => ($"the family {shown} {where} is", "the table"),
        FactorKind.Crop => ($"{shown} {where} is", "the table"),
        FactorKind.Lot => ($"lot {shown} is", "other lots"),
        FactorKind.Spot => ($"{SpotWords(name)} {where} everything is", "the table"),
        FactorKind.Age => ($"with each year of its age seed {where} is", "the year before"),
        _ when name.StartsWith(nameof(SowingMethod.DampTowel), StringComparison.Ordinal) =>
            ($"on towels {where} everything is", "the table"),
        _ when name.StartsWith(nameof(SowingMethod.OpenMix), StringComparison.Ordinal) =>
            ($"on open mix {where} everything is", "the table"),
        _ => ($"in covered mix {where} everything is", "the table"),
    };

    private static string SpotWords(string name) => Enum.Parse<SpotKind>(name) switch
    {
        SpotKind.Shelf => "on shelves",
        SpotKind.Cupboard => "in cupboards",
        SpotKind.BoilerCupboard => "in boiler cupboards",
        SpotKind.HeatMat => "on heat mats",
        SpotKind.ApplianceTop => "on appliances",
        SpotKind.Electronics => "on electronics",
        SpotKind.AquariumSide => "beside aquariums",
        SpotKind.Radiator => "at radiators",
        SpotKind.Sill => "on sills",
        _ => "in refrigerators",
    };

    private static string Describe(double factor) =>
        string.Create(CultureInfo.InvariantCulture, $"{Change(factor)} % {(factor <= 1 ? "faster" : "slower")}");

    private static int Change(double factor) => (int)Math.Round(100 * Math.Abs(factor - 1), MidpointRounding.AwayFromZero);

    private static int Smaller(double low, double high) => Math.Min(Change(low), Change(high));

    private static int Larger(double low, double high) => Math.Max(Change(low), Change(high));
}
