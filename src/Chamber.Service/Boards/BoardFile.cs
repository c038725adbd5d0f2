using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Chamber.Service.Boards;

/// <summary>A board in the JSON form that Grafana and servers compatible with it import (dashboard kind 0.0, schema version 36).</summary>
internal static class BoardFile
{
    public const int SchemaVersion = 36;

    private const int Columns = 24;
    private const string Tag = "chamber";

    private static readonly string[] Tags = [Tag];

    private static readonly JsonSerializerOptions Form = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        DefaultIgnoreCondition = JsonIgnoreCondition.Never,
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
            version = 2,
            links = Others(),
            annotations = new { list = Marks(board.Marks) },
            templating = new { list = Variables(board) },
            panels = Panels(board),
        },
        Form) + "\n";

    // To every other board of this tag, with what is chosen here and the same time.
    private static IEnumerable<object> Others()
    {
        yield return new
        {
            title = "Other boards",
            type = "dashboards",
            tags = Tags,
            asDropdown = true,
            includeVars = true,
            keepTime = true,
            targetBlank = false,
            icon = "external link",
            tooltip = "",
            url = "",
        };
    }

    private static IEnumerable<object> Marks(BoardMarks marks)
    {
        yield return new
        {
            name = "Alerts",
            enable = true,
            hide = false,
            iconColor = "red",
            datasource = BoardDrawing.Source,
            expr = marks.Expression,
            titleFormat = marks.Title,
            textFormat = "",
            step = "60s",
            useValueForTime = false,
        };
    }

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
                datasource = BoardDrawing.Source,
                query = $"label_values({choice.Series}, {choice.Name})",
                refresh = 2,
                sort = 1,
                hide = 0,
                skipUrlSync = false,
                includeAll = choice.IsOpen,
                allValue = choice.IsOpen ? ".*" : null,
                current = choice.IsOpen ? new { text = "All", value = "$__all" } : null,
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

            panels.Add(BoardDrawing.Of(panel, panels.Count + 1, x, y));
            x += panel.Width;
            rowHeight = Math.Max(rowHeight, panel.Height);
        }

        return panels;
    }
}
