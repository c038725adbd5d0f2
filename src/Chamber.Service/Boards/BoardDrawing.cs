namespace Chamber.Service.Boards;

/// <summary>One drawing of a board in the format's form.</summary>
internal static class BoardDrawing
{
    public static readonly object Source = new { type = "prometheus", uid = "${source}" };

    private static readonly string[] LastValue = ["lastNotNull"];

    public static object Of(BoardPanel panel, int id, int x, int y) => new
    {
        id,
        type = panel.Kind,
        title = panel.Title,
        description = panel.Description,
        transparent = false,
        datasource = Source,
        gridPos = new { h = panel.Height, w = panel.Width, x, y },
        targets = panel.Queries.Select((query, index) => new
        {
            refId = Letter(index),
            datasource = Source,
            expr = query.Expression,
            legendFormat = IsTable(panel) ? "" : query.Legend,
            instant = panel.Kind != "timeseries",
            range = panel.Kind == "timeseries",
            format = IsTable(panel) ? "table" : "time_series",
        }),
        repeatDirection = "h",
        transformations = IsTable(panel) ? Table(panel) : [],
        options = Options(panel),
        fieldConfig = new { defaults = Defaults(panel), overrides = IsTable(panel) ? Overrides(panel) : [] },
    };

    private static bool IsTable(BoardPanel panel) => panel.Kind == "table";

    private static string Letter(int index) => ((char)('A' + index)).ToString();

    private static object Options(BoardPanel panel) => panel.Kind switch
    {
        "stat" => new { reduceOptions = Last(), colorMode = "value", graphMode = "none", textMode = panel.ShowsName ? "name" : "value" },
        "bargauge" => new { reduceOptions = Last(), orientation = "horizontal", displayMode = "basic" },
        "table" => new { showHeader = true },
        _ => new { legend = new { displayMode = "list", placement = "bottom", showLegend = true }, tooltip = new { mode = "multi" } },
    };

    private static object Last() => new { calcs = LastValue, fields = "", values = false };

    private static object Defaults(BoardPanel panel) => new
    {
        unit = panel.Unit,
        min = panel.Min,
        max = panel.Max,
        color = new { mode = panel.Kind == "timeseries" || panel.Steps.Count == 0 ? "palette-classic" : "thresholds" },
        thresholds = new { mode = "absolute", steps = Steps(panel.Steps) },
        mappings = Words(panel.Words),
        links = panel.Opens is { } opens ? new[] { Link(opens.Board, opens.Label, $"${{__field.labels.{opens.Label}}}") } : [],
        custom = Custom(panel),
    };

    // The lines at which colours change are drawn where they are limits.
    private static object Custom(BoardPanel panel) => panel.Kind switch
    {
        "timeseries" => new { thresholdsStyle = new { mode = panel.Steps.Count > 0 ? "dashed" : "off" }, spanNulls = false },
        "table" => new { cellOptions = new { type = panel.Steps.Count + panel.Words.Count > 0 ? "color-text" : "auto" } },
        _ => new { },
    };

    private static IEnumerable<object> Steps(IReadOnlyList<BoardStep> steps) =>
        (steps.Count > 0 ? steps : [new(null, "green")]).Select(step => new { color = step.Colour, value = step.From });

    private static IEnumerable<object> Words(IReadOnlyList<BoardWord> words)
    {
        if (words.Count > 0)
        {
            yield return new
            {
                type = "value",
                options = words.ToDictionary(word => word.Value.ToString(System.Globalization.CultureInfo.InvariantCulture),
                    word => new { text = word.Word, color = word.Colour, index = word.Value }),
            };
        }
    }

    // One row for each set of labels, the values of all queries beside them; the time and labels that nobody reads go.
    private static object[] Table(BoardPanel panel)
    {
        var labels = panel.Columns.Select(column => (Key: column.Label, Name: column.Heading));
        var values = panel.Queries.Select((query, index) => (Key: ValueOf(panel, index), Name: query.Legend));
        var shown = labels.Concat(values).ToList();
        return
        [
            new { id = "merge", options = new { } },
            new { id = "filterFieldsByName", options = new { include = new { names = shown.Select(one => one.Key) } } },
            new
            {
                id = "organize",
                options = new
                {
                    indexByName = shown.Select((one, index) => (one.Key, index)).ToDictionary(one => one.Key, one => one.index),
                    renameByName = shown.ToDictionary(one => one.Key, one => one.Name),
                },
            },
        ];
    }

    // With several queries the format tells their values apart by the letter.
    private static string ValueOf(BoardPanel panel, int index) => panel.Queries.Count == 1 ? "Value" : $"Value #{Letter(index)}";

    private static object[] Overrides(BoardPanel panel) =>
    [
        .. panel.Columns.Where(column => column.Opens is not null).Select(column => new
        {
            matcher = new { id = "byName", options = column.Heading },
            properties = new[] { new { id = "links", value = new[] { Link(column.Opens!, column.Label, "${__value.text}") } } },
        }),
    ];

    private static object Link(string board, string label, string value) => new
    {
        title = $"Open this {label}",
        url = $"/d/{board}?var-{label}={value}&${{source:queryparam}}&${{__url_time_range}}",
    };
}
