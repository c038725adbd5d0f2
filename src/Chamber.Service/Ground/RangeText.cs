using System.Globalization;
using NodaTime;

namespace Chamber.Service.Ground;

/// <summary>Intervals in plain words, the answer first: <c>6 days, likely 5 to 8</c>.</summary>
internal static class RangeText
{
    /// <summary><c>6 days, likely 5 to 8</c>; with a tenth below ten days.</summary>
    public static string Days(double low, double mid, double high) =>
        $"{Day(mid)} {(Day(mid) == "1" ? "day" : "days")}, likely {Day(low)} to {Day(high)}";

    /// <summary><c>Thu 4 Mar to Sat 6 Mar</c>, or one day when both are the same.</summary>
    public static string Dates(LocalDate low, LocalDate high, LocalDate today) => low == high
        ? TimeText.ShowDay(low, today)
        : $"{TimeText.ShowDay(low, today)} to {TimeText.ShowDay(high, today)}";

    /// <summary><c>3 to 5 of 10</c>, or <c>4 of 10</c> when both are the same.</summary>
    public static string Counts(int low, int high, int all) => low == high ? $"{low} of {all}" : $"{low} to {high} of {all}";

    /// <summary>A share as whole percent: <c>78 %</c>.</summary>
    public static string Percent(double share) => string.Create(CultureInfo.InvariantCulture, $"{share * 100:0} %");

    /// <summary><c>78 %, likely 60 to 90 %</c>.</summary>
    public static string Percent(double low, double mid, double high) =>
        string.Create(CultureInfo.InvariantCulture, $"{mid * 100:0} %, likely {low * 100:0} to {high * 100:0} %");

    /// <summary>A number of days: with a tenth below ten.</summary>
    public static string Day(double days) => days.ToString(days < 9.95 ? "0.#" : "0", CultureInfo.InvariantCulture);
}
