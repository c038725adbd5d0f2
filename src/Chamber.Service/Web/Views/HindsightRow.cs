using System.Globalization;
using Chamber.Core.Facts;
using Chamber.Core.Forecasts;
using Chamber.Service.Home;

namespace Chamber.Service.Web.Views;

/// <summary>A forecast beside what came, as a picture in days since the sowing.</summary>
/// <param name="Batch">Which batch, with its crop.</param>
/// <param name="Href">Its page.</param>
/// <param name="Low">The first day that was forecast.</param>
/// <param name="High">The last day that was forecast.</param>
/// <param name="After">The last look without it.</param>
/// <param name="By">The first look with it.</param>
/// <param name="ForecastWords">What was forecast, in words.</param>
/// <param name="SeenWords">The day on which it was seen, and how far off that is.</param>
/// <param name="Held">Whether it came within the days that were forecast.</param>
public sealed record HindsightRow(string Batch, string Href, double Low, double High, double After, double By, string ForecastWords,
    string SeenWords, bool Held)
{
    private const double EdgeShare = 1.05;

    /// <summary>How many days the pictures of some rows span.</summary>
    public static double Span(IEnumerable<HindsightRow> rows) => rows.Max(row => Math.Max(row.High, row.By)) * EdgeShare;

    /// <summary>Of each batch the first seedling, which every batch that came up can show; the last sown first.</summary>
    internal static IReadOnlyList<HindsightRow> Of(IReadOnlyList<BatchHindsight> batches, ShownNames names) =>
        [.. batches.Select(batch => Of(batch, names)).OfType<HindsightRow>()];

    /// <summary>How often it held, in a sentence; empty when there is nothing to tell.</summary>
    public static string Headline(IReadOnlyList<HindsightRow> rows)
    {
        if (rows.Count == 0)
        {
            return "No batch has come up yet, so no forecast can be judged.";
        }

        var held = rows.Count(row => row.Held);
        var few = rows.Count < PredictionScore.BatchesToJudge ? " Too few to judge by." : "";
        return (rows.Count, held) switch
        {
            (1, 1) => $"The one batch that came up did so as forecast.{few}",
            _ when held == rows.Count => $"All {held} batches came up as forecast; 4 in 5 are promised.{few}",
            _ => $"Of {rows.Count} batches {held} came up as forecast; 4 in 5 are promised.{few}",
        };
    }

    /// <summary>How far off they were, and to which side; empty when it is nothing to speak of.</summary>
    public static string Leaning(IReadOnlyList<HindsightRow> rows)
    {
        var late = rows.Count(row => !row.Held && row.Low > row.By);
        var soon = rows.Count(row => !row.Held && row.High < row.By);
        return (late, soon) switch
        {
            (0, 0) => "",
            _ when late > soon => "Where they were wrong, seedlings came sooner than forecast.",
            _ when soon > late => "Where they were wrong, seedlings came later than forecast.",
            _ => "Where they were wrong, it was to both sides alike.",
        };
    }

    private static HindsightRow? Of(BatchHindsight batch, ShownNames names)
    {
        if (batch.Compared.FirstOrDefault(each => each.Milestone == Milestone.First) is not { Predicted: { Low: { } low } said } first)
        {
            return null;
        }

        var (after, by) = (first.After.TotalDays, first.By.TotalDays);
        var high = said.High?.TotalDays ?? Math.Max(by, low.TotalDays);
        return new($"{names.Of(batch.Batch.Id)} {batch.Crop.CommonName}", $"batches/{batch.Batch.Id.Text}", low.TotalDays, high, after,
            by, $"forecast day {Day(low.TotalDays)} to {Day(high)}", $"day {Day(by)}{Off(first)}", first.DidHold);
    }

    private static string Off(PredictedActual first) => first switch
    {
        { DidHold: true } => "",
        { ErrorDays: > 0 } => $": {Day(first.ErrorDays)} days sooner than forecast",
        { ErrorDays: < 0 } => $": {Day(-first.ErrorDays)} days later than forecast",
        _ => ": just outside",
    };

    private static string Day(double days) => days.ToString("0.#", CultureInfo.InvariantCulture);
}
