using System.Text.Json;
using Chamber.Core.Climate;
using Chamber.Service.Boards;
using Chamber.Testing;

namespace Chamber.Service.Tests.Boards;

/// <summary>The ready-made boards as files: in step with the list they are made from, and of the structure that the format's own schema
/// asks for. Source: Grafana's schema of the dashboard kind, version 0.0 (kinds/dashboard/dashboard_kind.cue at commit 00139e8, 2023):
/// required members, types, ranges of the grid, words of the variables. The options of a drawing are not part of that schema. The grid of
/// 24 columns and ids of at most 40 letters are the board server's own, as its documentation says (from memory).</summary>
public sealed class BoardFileTests
{
    private static readonly string Folder = SourceTree.Path("dashboards");

    private static IReadOnlyList<Board> All { get; } = BoardList.In(TemperatureScale.Celsius);

    public static TheoryData<string> Names => [.. All.Select(board => board.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void The_file_is_what_the_list_gives(string name) =>
        Assert.Equal(BoardFile.Text(All.Single(board => board.Name == name)),
            File.ReadAllText(Path.Combine(Folder, name + ".json")));

    [Fact]
    public void There_is_a_file_for_each_board_one_of_rules_and_no_other() =>
        Assert.Equal(All.Select(board => board.Name + ".json").Append(AlertRules.FileName).Order(StringComparer.Ordinal),
            Directory.EnumerateFiles(Folder).Select(Path.GetFileName).Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(Names))]
    public void Its_structure_is_that_of_the_published_schema(string name)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(Folder, name + ".json")));
        var board = document.RootElement;
        Assert.InRange(Text(board, "uid").Length, 8, 40);
        Assert.NotEmpty(Text(board, "title"));
        Assert.Contains(Text(board, "style"), (string[])["light", "dark"]);
        Assert.Contains(board.GetProperty("graphTooltip").GetInt32(), (int[])[0, 1, 2]);
        Assert.InRange(board.GetProperty("schemaVersion").GetInt32(), 1, ushort.MaxValue);
        Assert.Contains(board.GetProperty("editable").ValueKind, (JsonValueKind[])[JsonValueKind.True, JsonValueKind.False]);
        Assert.All(board.GetProperty("tags").EnumerateArray(), tag => Assert.Equal(JsonValueKind.String, tag.ValueKind));
        Assert.StartsWith("now-", Text(board.GetProperty("time"), "from"), StringComparison.Ordinal);
        Assert.All(board.GetProperty("links").EnumerateArray(),
            link => Assert.Contains(Text(link, "type"), (string[])["link", "dashboards"]));
        Assert.All(board.GetProperty("annotations").GetProperty("list").EnumerateArray(), mark => Assert.NotEmpty(Text(mark, "name")));
        Assert.All(board.GetProperty("templating").GetProperty("list").EnumerateArray(), CheckVariable);
        var panels = board.GetProperty("panels").EnumerateArray().ToList();
        Assert.NotEmpty(panels);
        Assert.All(panels, CheckPanel);
        Assert.Equal(panels.Count, panels.Select(panel => panel.GetProperty("id").GetUInt32()).Distinct().Count());
        Assert.Empty(Overlaps(panels));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void States_are_words_tables_are_tables_and_shares_have_ranges(string name)
    {
        foreach (var panel in All.Single(board => board.Name == name).Panels)
        {
            Assert.True(panel.Kind != "table" || panel.Columns.Count > 0, $"{panel.Title}: a table with columns");
            Assert.True(panel.Kind == "table" || panel.Columns.Count == 0, $"{panel.Title}: columns of no table");
            Assert.True(panel.Unit is not ("percent" or "percentunit") || (panel.Min, panel.Max) is ({ }, { }), $"{panel.Title}: a range");
            Assert.DoesNotMatch("[0-9] (note|warning)", panel.Title);
            var steps = panel.Steps.Select(step => step.From).ToList();
            Assert.Equal(steps.Order(), steps);
            Assert.True(steps is [] or [null, ..], $"{panel.Title}: a colour below the first step");
        }

        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(Folder, name + ".json")));
        var tables = document.RootElement.GetProperty("panels").EnumerateArray().Where(panel => Text(panel, "type") == "table");
        Assert.All(tables, table => Assert.All(table.GetProperty("targets").EnumerateArray(),
            target => Assert.Equal("table", Text(target, "format"))));
    }

    [Fact]
    public void Every_link_leads_to_a_board_that_offers_its_choice()
    {
        foreach (var panel in All.SelectMany(board => board.Panels))
        {
            var links = panel.Columns.Where(column => column.Opens is not null).Select(column => (Board: column.Opens!, column.Label))
                .Concat(panel.Opens is { } opens ? [(opens.Board, opens.Label)] : []);
            Assert.All(links, link => Assert.Contains(All.Single(board => board.Name == link.Board).Choices,
                choice => choice.Name == link.Label));
        }
    }

    [Fact]
    public void In_Fahrenheit_units_limits_and_queries_differ_and_nothing_else()
    {
        var board = BoardList.In(TemperatureScale.Fahrenheit)[0].Panels[0];
        var same = All[0].Panels[0];

        // 40 and 50 °C are 104 and 122 °F exactly.
        Assert.Equal(("fahrenheit", 104.0, 122.0), (board.Unit, board.Steps[1].From, board.Steps[2].From));
        Assert.Equal(("celsius", 40.0, 50.0), (same.Unit, same.Steps[1].From, same.Steps[2].From));
        Assert.Equal($"({same.Queries[0].Expression}) * 1.8 + 32", board.Queries[0].Expression);
    }

    private static void CheckVariable(JsonElement variable)
    {
        Assert.Contains(Text(variable, "type"),
            (string[])["query", "adhoc", "constant", "datasource", "interval", "textbox", "custom", "system"]);
        Assert.NotEmpty(Text(variable, "name"));
        Assert.Contains(variable.GetProperty("hide").GetInt32(), (int[])[0, 1, 2]);
    }

    private static void CheckPanel(JsonElement panel)
    {
        Assert.NotEmpty(Text(panel, "type"));
        var place = panel.GetProperty("gridPos");
        Assert.InRange(place.GetProperty("w").GetUInt32(), 1u, 24u);
        Assert.InRange(place.GetProperty("x").GetUInt32(), 0u, 24 - place.GetProperty("w").GetUInt32());
        Assert.True(place.GetProperty("h").GetUInt32() > 0);
        Assert.True(place.GetProperty("y").GetInt32() >= 0);
        Assert.Contains(Text(panel, "repeatDirection"), (string[])["h", "v"]);
        Assert.Equal(JsonValueKind.Object, panel.GetProperty("options").ValueKind);
        Assert.Equal(JsonValueKind.Array, panel.GetProperty("transformations").ValueKind);
        Assert.Equal(JsonValueKind.Object, panel.GetProperty("fieldConfig").GetProperty("defaults").ValueKind);
        Assert.Equal(JsonValueKind.Array, panel.GetProperty("fieldConfig").GetProperty("overrides").ValueKind);
        Assert.Equal("${source}", Text(panel.GetProperty("datasource"), "uid"));
        Assert.All(panel.GetProperty("targets").EnumerateArray(), target => Assert.NotEmpty(Text(target, "expr")));
    }

    private static IEnumerable<string> Overlaps(List<JsonElement> panels) =>
        from one in panels
        from other in panels
        where one.GetProperty("id").GetUInt32() < other.GetProperty("id")
            .GetUInt32() && Cross(one, other, "x", "w") && Cross(one, other, "y", "h")
        select $"{Text(one, "title")} lies over {Text(other, "title")}";

    private static bool Cross(JsonElement one, JsonElement other, string start, string length) =>
        Number(one, start) < Number(other, start) + Number(other, length)
            && Number(other, start) < Number(one, start) + Number(one, length);

    private static int Number(JsonElement panel, string name) => panel.GetProperty("gridPos").GetProperty(name).GetInt32();

    private static string Text(JsonElement element, string name) => element.GetProperty(name).GetString()!;
}
