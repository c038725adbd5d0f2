using System.Text.Json;
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

    public static TheoryData<string> Names => [.. BoardList.All.Select(board => board.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void The_file_is_what_the_list_gives(string name) =>
        Assert.Equal(BoardFile.Text(BoardList.All.Single(board => board.Name == name)),
            File.ReadAllText(Path.Combine(Folder, name + ".json")));

    [Fact]
    public void There_is_a_file_for_each_board_and_no_other() =>
        Assert.Equal(BoardList.All.Select(board => board.Name + ".json").Order(StringComparer.Ordinal),
            Directory.EnumerateFiles(Folder, "*.json").Select(Path.GetFileName).Order(StringComparer.Ordinal));

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
        Assert.All(board.GetProperty("templating").GetProperty("list").EnumerateArray(), CheckVariable);
        var panels = board.GetProperty("panels").EnumerateArray().ToList();
        Assert.NotEmpty(panels);
        Assert.All(panels, CheckPanel);
        Assert.Equal(panels.Count, panels.Select(panel => panel.GetProperty("id").GetUInt32()).Distinct().Count());
        Assert.Empty(Overlaps(panels));
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
