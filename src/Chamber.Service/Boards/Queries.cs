using Chamber.Service.Mirror;

namespace Chamber.Service.Boards;

/// <summary>
/// Pieces of queries over what the mirror sends, in MetricsQL, the dialect of PromQL that victoria-metrics answers. Names come
/// from <see cref="Measurements"/>: a field that goes breaks the boards when they are made, not when somebody looks at them.
/// </summary>
internal static class Queries
{
    // Also matches series without the tag, where "all" is chosen.
    private const string OfHome = $"{Measurement.HomeTag}=~\"${Measurement.HomeTag}\"";

    /// <summary>The spot of each probe: where it came last and has not left since, or was at the last hour.</summary>
    public static string OnSpot { get; } = $"* on(home, probe) group_left(spot) (topk by (home, probe) (1, "
        + $"tlast_over_time({Series(Measurements.Station, "present")}[2h]) and {Present(Measurements.Station)}) ^ 0)";

    /// <summary>The homes that write into this bucket, for one of them to be chosen.</summary>
    public static BoardChoice Homes { get; } =
        new(Measurement.HomeTag, "Home", Name(Measurements.Reading, "temperature_celsius")) { IsOpen = true };

    /// <summary>Alerts of the home that are open, as marks.</summary>
    public static BoardMarks Alerts(string filter = "") => new(
        $"last_over_time({Series(Measurements.Alert, "open", filter)}[90d]) > 0", "{{subject}}: {{kind}}");

    /// <summary>The last value of a field within a time, so that a series of hours is a line.</summary>
    public static string Last(Measurement measurement, string field, string within, string filter = "") =>
        $"last_over_time({Series(measurement, field, filter)}[{within}])";

    /// <summary>Who stands on which spot: 1.</summary>
    public static string Present(Measurement measurement, string filter = "") => $"({Last(measurement, "present", "2h", filter)} > 0)";

    /// <summary>Temperature or another quantity by spot: the mean of the probes there.</summary>
    public static string BySpot(string field, string filter = "") =>
        $"avg by (home, spot) (({Last(Measurements.Reading, field, "15m")} {OnSpot})"
            + $"{(filter.Length == 0 ? "" : $" and on(home, spot) {Last(Measurements.Station, "present", "2h", filter)}")})";

    /// <summary>The series of a field of the chosen home.</summary>
    public static string Series(Measurement measurement, string field, string filter = "") =>
        $"{Name(measurement, field)}{{{OfHome}{(filter.Length == 0 ? "" : $",{filter}")}}}";

    private static string Name(Measurement measurement, string field) => measurement.Fields.Any(part => part.Name == field)
        ? $"{measurement.Name}_{field}"
        : throw new ArgumentException($"{measurement.Name} has no field {field}.");
}
