namespace Chamber.Service.Boards;

/// <summary>One query of a drawing.</summary>
/// <param name="Expression">The query.</param>
/// <param name="Legend">How its lines are named; in a table the heading of its column.</param>
internal sealed record BoardQuery(string Expression, string Legend = "");

/// <summary>From a value on another colour.</summary>
/// <param name="From">The value, in the unit of the drawing; null for everything below the first.</param>
/// <param name="Colour">A colour by the format's name.</param>
internal sealed record BoardStep(double? From, string Colour);

/// <summary>A state that is a number, as a word.</summary>
/// <param name="Value">The number.</param>
/// <param name="Word">What is shown in its stead.</param>
/// <param name="Colour">A colour by the format's name.</param>
internal sealed record BoardWord(int Value, string Word, string Colour);

/// <summary>A label of the rows of a table as a column.</summary>
/// <param name="Label">The label.</param>
/// <param name="Heading">What stands over the column.</param>
/// <param name="Opens">The board that a tap on it opens, with the label chosen there; null for none.</param>
internal sealed record BoardColumn(string Label, string Heading, string? Opens = null);

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

    /// <summary>The range that is drawn, in the unit; null lets the values decide.</summary>
    public double? Min { get; init; }

    /// <inheritdoc cref="Min"/>
    public double? Max { get; init; }

    /// <summary>From which values on it changes its colour, upwards; none keeps one colour.</summary>
    public IReadOnlyList<BoardStep> Steps { get; init; } = [];

    /// <summary>Words for numbers that are states.</summary>
    public IReadOnlyList<BoardWord> Words { get; init; } = [];

    /// <summary>The labels that a table shows, in order.</summary>
    public IReadOnlyList<BoardColumn> Columns { get; init; } = [];

    /// <summary>A stat shows the name of its line and not the number.</summary>
    public bool ShowsName { get; init; }

    /// <summary>The board that a tap on a line opens, and the label that is chosen there.</summary>
    public (string Board, string Label)? Opens { get; init; }
}

/// <summary>Something that is chosen at the top of a board; offers the values of a label.</summary>
/// <param name="Name">The label, and the variable.</param>
/// <param name="Label">What stands beside it.</param>
/// <param name="Series">Where the values come from.</param>
internal sealed record BoardChoice(string Name, string Label, string Series)
{
    /// <summary>May be left open, which is how it begins: series without the label count then too.</summary>
    public bool IsOpen { get; init; }
}

/// <summary>What stands as marks over all drawings of a board.</summary>
/// <param name="Expression">Larger than 0 while it lasts.</param>
/// <param name="Title">What a mark says, with labels in double braces.</param>
internal sealed record BoardMarks(string Expression, string Title);

/// <summary>A ready-made board.</summary>
internal sealed record Board(string Name, string Title, string Description, string From, IReadOnlyList<BoardChoice> Choices,
    BoardMarks Marks, IReadOnlyList<BoardPanel> Panels);
