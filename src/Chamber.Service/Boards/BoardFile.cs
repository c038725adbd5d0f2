using System.Text.Encodings.Web;
using System.Text.Json;

namespace Chamber.Service.Boards;

/// <summary>A board in the JSON form that Grafana and servers compatible with it import (dashboard kind 0.0, schema version 36).</summary>
internal static class BoardFile
{
    public const int SchemaVersion = 36;

    private const int Columns = 24;
    private const string Source = "${source}";

    private static readonly string[] Tags = ["chamber"];

    private static readonly JsonSerializerOptions Form = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        NewLine = "\n",
    };

    public static string Text(Board board) => JsonSerializer.Serialize(
        new
        {
            uid = board.Name,
            title = board.Title,
            description = board.Description,
            tags = Tags,
            style = "dark",
            timezone = "browser",
            editable = true,
            graphTooltip = 1,
            time = new { from = board.From, to = "now" },
            refresh = "1m",
            schemaVersion = SchemaVersion,
            version = 1,
            templating = new { list = Variables(board) },
            panels = Panels(board),
        },
        Form) + "\n";

    private static IEnumerable<object> Variables(Board board)
    {
        yield return new { type = "datasource", name = "source", label = "Source", query = "prometheus", hide = 0, skipUrlSync = false };
        foreach (var choice in board.Choices)
        {
            yield return new
            {
                type = "query",
                name = choice.Name,
                label = choice.Label,
                datasource = new { type = "prometheus", uid = Source },
                query = $"label_values({choice.Series}, {choice.Name})",
                refresh = 2,
                sort = 1,
                hide = 0,
                skipUrlSync = false,
            };
        }
    }

    // From left to right, a new row where the next one doesn't fit.
    private static List<object> Panels(Board board)
    {
        var panels = new List<object>();
        var (x, y, rowHeight) = (0, 0, 0);
        foreach (var panel in board.Panels)
        {
            if (x + panel.Width > Columns)
            {
                (x, y, rowHeight) = (0, y + rowHeight, 0);
            }

            panels.Add(Panel(panel, panels.Count + 1, x, y));
            x += panel.Width;
            rowHeight = Math.Max(rowHeight, panel.Height);
        }

        return panels;
    }

    private static object Panel(BoardPanel panel, int id, int x, int y) => new
    {
        id,
        type = panel.Kind,
        title = panel.Title,
        description = panel.Description,
        transparent = false,
        datasource = new { type = "prometheus", uid = Source },
        gridPos = new { h = panel.Height, w = panel.Width, x, y },
        targets = panel.Queries.Select((query, index) => new
        {
            refId = ((char)('A' + index)).ToString(),
            datasource = new { type = "prometheus", uid = Source },
            expr = query.Expression,
            legendFormat = query.Legend,
            instant = panel.Kind != "timeseries",
            range = panel.Kind == "timeseries",
        }),
        repeatDirection = "h",
        transformations = Array.Empty<object>(),
        options = new { },
        fieldConfig = new { defaults = new { unit = panel.Unit, min = panel.Kind == "bargauge" ? 0 : (int?)null },
            overrides = Array.Empty<object>() },
    };
}
