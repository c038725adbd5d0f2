using Chamber.Service.Mirror;

namespace Chamber.Service.Boards;

/// <summary>
/// Pieces of queries over what the mirror sends, in MetricsQL, the dialect of PromQL that victoria-metrics answers. Names come
/// from <see cref="Measurements"/>: a field that goes breaks the boards when they are made, not when somebody looks at them.
/// </summary>
internal static class Queries
{
    /// <summary>The spot of each probe: where it was at the last hour. A probe that was moved within two hours has one spot
    /// still.</summary>
    public static string OnSpot { get; } = $"* on(probe) group_left(spot) (topk by (probe) (1, "
        + $"tlast_over_time({Name(Measurements.Station, "present")}[2h])) ^ 0)";

    /// <summary>The last value of a field within a time, so that a series of hours is a line.</summary>
    public static string Last(Measurement measurement, string field, string within, string filter = "") =>
        $"last_over_time({Name(measurement, field)}{(filter.Length == 0 ? "" : $"{{{filter}}}")}[{within}])";

    /// <summary>Temperature or another quantity by spot: the mean of the probes there.</summary>
    public static string BySpot(string field, string filter = "") =>
        $"avg by (spot) (({Last(Measurements.Reading, field, "15m")} "
            + $"{OnSpot}){(filter.Length == 0 ? "" : $" and on(spot) last_over_time({Name(Measurements.Station, "present")}{{{filter}}}[2h])")})";

    /// <summary>The series of a field, as a server of time series names it.</summary>
    public static string Name(Measurement measurement, string field) => measurement.Fields.Any(part => part.Name == field)
        ? $"{measurement.Name}_{field}"
        : throw new ArgumentException($"{measurement.Name} has no field {field}.");
}
