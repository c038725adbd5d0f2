using System.Globalization;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>The numbers behind a chart, for those who cannot see it or want to read them off.</summary>
/// <param name="Heads">Of the columns, the day first.</param>
/// <param name="Rows">A row for each day, the first day first.</param>
public sealed record ChartTable(IReadOnlyList<string> Heads, IReadOnlyList<IReadOnlyList<string>> Rows)
{
    /// <summary>The lowest and the highest of each day.</summary>
    internal static ChartTable Extremes(IEnumerable<double?[]> points, string unit, DateTimeZone zone, LocalDate today) => new(
        ["Day", $"Lowest, {unit}", $"Highest, {unit}"],
        [.. ByDay(points.Where(point => point[1] is not null), zone).Select(day => (IReadOnlyList<string>)
            [TimeText.ShowDay(day.Key, today), Number(day.Min(point => point[1]!.Value)), Number(day.Max(point => point[1]!.Value))])]);

    /// <summary>The last of each day.</summary>
    internal static ChartTable Last(string head, IEnumerable<double?[]> points, DateTimeZone zone, LocalDate today) => new(
        ["Day", head],
        [.. ByDay(points, zone).Select(day => (IReadOnlyList<string>)
            [TimeText.ShowDay(day.Key, today), Number(day.Last()[1] ?? 0)])]);

    private static IEnumerable<IGrouping<LocalDate, double?[]>> ByDay(IEnumerable<double?[]> points, DateTimeZone zone) =>
        points.GroupBy(point => Instant.FromUnixTimeMilliseconds((long)point[0]!.Value).InZone(zone).Date);

    private static string Number(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);
}
