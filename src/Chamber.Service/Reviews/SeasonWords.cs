using System.Globalization;
using Chamber.Core.Plans;
using Chamber.Core.Reviews;
using Chamber.Service.Plots;
using NodaTime;

namespace Chamber.Service.Reviews;

/// <summary>A season in words, the same on the command line and the page.</summary>
internal static class SeasonWords
{
    public static Interval SeasonOf(int year, DateTimeZone zone) => Core.Bounds.Year.Holds(year)
        ? new(new LocalDate(year, 1, 1).AtStartOfDayInZone(zone).ToInstant(),
            new LocalDate(year + 1, 1, 1).AtStartOfDayInZone(zone).ToInstant())
        : throw BadInputException.In("year", $"year {year}: write it with four digits.");

    /// <summary>What came of it and for how much.</summary>
    public static string Headline(SeasonReview review) => review.PlantedOut == 0
        ? $"Nothing is planted out yet; {ShareText.Show(review.Cost.Total)} spent."
        : $"{review.PlantedOut} plants out for {ShareText.Show(review.Cost.Total)}{Saved(review.Saved)}.";

    /// <summary>What was spent on what; empty when nothing was.</summary>
    public static string MoneyWords(PlantCost cost)
    {
        var parts = new[] { ("seed", cost.Seed), ("mix", cost.Mix), ("electricity", cost.Heat), ("pots and other", cost.Containers) }
            .Where(part => part.Item2 > 0).Select(part => $"{part.Item1} {ShareText.Show(part.Item2)}").ToList();
        return parts.Count == 0 ? string.Empty
            : $"Spent on {string.Join(", ", parts)}{(cost.EachPlant is { } each ? $"; {ShareText.Show(each)} a plant" : string.Empty)}.";
    }

    /// <summary>How many forecasts held; empty without any.</summary>
    public static string HeldWords(IReadOnlyCollection<Hit> hits) => hits.Count == 0
        ? string.Empty
        : $"{hits.Count(hit => hit.Held)} of {CountText.Of(hits.Count, "forecast")} held.";

    /// <summary>How the forecasts did; empty without any.</summary>
    public static string ForecastWords(IReadOnlyCollection<Hit> hits) => hits.Count == 0
        ? string.Empty
        : string.Create(CultureInfo.InvariantCulture, $"{HeldWords(hits)} Off by {hits.Average(hit => hit.Error):0.#} days on average.");

    /// <summary>One row of a table: name, batches, share up, days to the first, planted out.</summary>
    public static string[] Row(SeasonLine line) =>
    [
        line.Name,
        line.Batches.ToString(CultureInfo.InvariantCulture),
        RangeText.Percent(line.Share.Low, line.Share.Mid, line.Share.High),
        Days(line) ?? "-",
        line.PlantedOut.ToString(CultureInfo.InvariantCulture),
    ];

    /// <summary>The days between which the first came up: <c>0 to 3.6</c>; null when nothing came up.</summary>
    public static string? Days(SeasonLine line) => line is not { DaysAfter: { } after, DaysBy: { } by } ? null
        : PlainText.Number(after) is var from && PlainText.Number(by) is var to && from == to ? to : $"{from} to {to}";

    private static string Saved(decimal? saved) => saved switch
    {
        null => string.Empty,
        >= 0 => $", {ShareText.Show(saved.Value)} less than bought ones",
        _ => $", {ShareText.Show(-saved.Value)} more than bought ones",
    };
}
