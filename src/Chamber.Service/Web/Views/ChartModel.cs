using System.Text.Json.Serialization;

namespace Chamber.Service.Web.Views;

/// <summary>A chart over time, in the form that the page's script draws. Numbers are in the unit that is shown.</summary>
/// <param name="Lines">What runs over time.</param>
/// <param name="Unit">The unit of the vertical axis: °C, °F, °C·h.</param>
/// <param name="Bands">Horizontal bands, such as the ideal band.</param>
/// <param name="Marks">Vertical marks and windows, such as a look or the forecast.</param>
public sealed record ChartModel(
    IReadOnlyList<ChartLine> Lines,
    string Unit,
    IReadOnlyList<ChartBand> Bands,
    IReadOnlyList<ChartMark> Marks)
{
    /// <summary>What lies between a lowest and a highest, drawn under the lines.</summary>
    public IReadOnlyList<ChartRange> Ranges { get; init; } = [];

    /// <summary>Whether the vertical axis is days of the calendar: values are then milliseconds since 1970.</summary>
    public bool AreDays { get; init; }

    /// <summary>Its numbers, day by day; the page shows them, not its script.</summary>
    [JsonIgnore]
    public ChartTable? Table { get; init; }
}

/// <param name="Name">As the legend says it.</param>
/// <param name="Color">A colour of the page, which differs by day and by night: clay, moss or quiet.</param>
/// <param name="Points">[milliseconds since 1970, value]; a null value is a gap and is drawn as one.</param>
/// <param name="Dashed">Whether it is estimated or expected and not measured.</param>
public sealed record ChartLine(string Name, string Color, IReadOnlyList<double?[]> Points, bool Dashed = false);

/// <param name="Name">As the legend says it.</param>
/// <param name="Color">A colour of the page, as of a line.</param>
/// <param name="Points">[milliseconds since 1970, lowest, highest]; nulls are a gap.</param>
public sealed record ChartRange(string Name, string Color, IReadOnlyList<double?[]> Points);

public sealed record ChartBand(double Low, double High, string Name);

/// <param name="From">Milliseconds since 1970.</param>
/// <param name="To">The same as <paramref name="From"/> for an instant.</param>
/// <param name="Name">Short words beside it.</param>
public sealed record ChartMark(double From, double To, string Name);
