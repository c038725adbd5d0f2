namespace Chamber.Service.Boards;

/// <summary>One query of a panel and how its lines are named.</summary>
internal sealed record BoardQuery(string Expression, string Legend = "");

/// <summary>A drawing on a board.</summary>
/// <param name="Kind">The drawing: timeseries, stat, bargauge or table.</param>
/// <param name="Title">What it answers.</param>
/// <param name="Unit">The format's word for the unit.</param>
/// <param name="Queries">What it shows.</param>
internal sealed record BoardPanel(string Kind, string Title, string Unit, params IReadOnlyList<BoardQuery> Queries)
{
    /// <summary>Columns of 24.</summary>
    public int Width { get; init; } = 12;

    public int Height { get; init; } = 8;

    public string Description { get; init; } = "";
}

/// <summary>Something that is chosen at the top of a board; offers the values of a label.</summary>
internal sealed record BoardChoice(string Name, string Label, string Series);

/// <summary>A ready-made board.</summary>
internal sealed record Board(string Name, string Title, string Description, string From, IReadOnlyList<BoardChoice> Choices,
    IReadOnlyList<BoardPanel> Panels);
