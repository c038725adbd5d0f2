using System.Text.Json;

namespace Chamber.Service.Tests.Commands.Sowing;

/// <summary>A notebook of past sowings and counts becomes facts: all of it or nothing, once however often it is read.</summary>
public sealed class ImportNotebookVerbTests : IDisposable
{
    private const string Notebook = """
        batch,sown,crop,seeds,method,spot,lot,counted,up,note,ended
        A1,2026-02-10,tomato,12,damp towel,shelf,tom-24,2026-02-16,4,"slow, cold week",
        A1,,,,,,,2026-02-20 08:15,9,,2026-03-04
        A2,2026-03-01,basil,20,,,,,,,
        """;

    private readonly HomeRig rig = new();

    [Fact]
    public async Task A_notebook_becomes_batches_with_their_counts()
    {
        await Furnish();
        var summary = await rig.Json("import-notebook", rig.Write("n.csv", Notebook));
        Assert.Equal((2, 2, 5), (Number(summary, "batches"), Number(summary, "counts"), Number(summary, "written")));
        var batches = (await rig.Json("batches", "--all")).EnumerateArray().ToDictionary(batch => Text(batch, "batch"));
        Assert.Equal((9, 12, "2026-02-10T12:00:00Z"),
            (Number(batches["A1"], "up"), Number(batches["A1"], "seeds"), Text(batches["A1"], "sownAt")));
        Assert.Equal("2026-03-04T12:00:00Z", Text(batches["A1"], "endedAt"));
        Assert.Equal("dampTowel", Text(batches["A1"], "method"));

        var line = (await rig.Json("history", "batch", "A1"))[1];
        Assert.Equal(("A1 looked at, 4 up, slow, cold week", Environment.UserName, "import", "2027-03-01T08:00:00Z"),
            (Text(line, "what"), Text(line, "by"), Text(line, "way"), Text(line, "writtenAt")));
    }

    [Fact]
    public async Task A_second_time_adds_only_what_is_new()
    {
        await Furnish();
        var file = rig.Write("n.csv", Notebook);
        await rig.Do($"import-notebook {file}");
        var again = await rig.Json("import-notebook", file);
        Assert.Equal((0, 5), (Number(again, "written"), Number(again, "known")));

        await rig.Do("rename batch A2 M2", $"import-notebook {file}");
        var longer = await rig.Json("import-notebook", rig.Write("n.csv", Notebook + "\nA1,,,,,,,2026-02-25,11,,\n"));
        Assert.Equal(1, Number(longer, "written"));
        Assert.Equal(["A1", "M2"], (await rig.Json("batches", "--all")).EnumerateArray().Select(batch => Text(batch, "batch")));
    }

    [Fact]
    public async Task It_is_taken_back_whole_and_can_come_in_again()
    {
        await Furnish();
        var file = rig.Write("n.csv", Notebook);
        await rig.Do($"import-notebook {file}", "undo");
        Assert.Empty((await rig.Json("batches", "--all")).EnumerateArray());
        Assert.Equal(5, Number(await rig.Json("import-notebook", file), "written"));
    }

    [Fact]
    public async Task A_dry_run_says_what_it_comes_to_and_writes_nothing()
    {
        await Furnish();
        var before = (await rig.Json("history")).GetArrayLength();
        var outcome = await rig.Run("import-notebook", rig.Write("n.csv", Notebook), "--dry-run");
        Assert.Equal(0, outcome.Code);
        Assert.Contains("would add 2 batches and 2 counts. Nothing was written down.", outcome.Out, StringComparison.Ordinal);
        Assert.Equal(before, (await rig.Json("history")).GetArrayLength());
    }

    [Fact]
    public async Task Each_bad_line_is_refused_by_its_number_and_nothing_is_written()
    {
        await Furnish();
        var outcome = await rig.Run("import-notebook", rig.Write("n.csv", """
            batch,sown,crop,seeds,spot,counted,up
            A1,2026-02-10,tomato,12,shelf,2026-02-16,4
            A1,,,,,2026-02-18,13
            A2,2026-02-30,tomato,12,,,
            A2,,,,,2026-03-05,3
            A3,2026-02-10,tomatto,12,,,
            A4,2026-02-10,tomato,,,,
            A5,2026-02-10,tomato,12,attic,,
            A6,yesterday,tomato,12,,,
            A7,2027-03-01,tomato,12,,,
            ,,,,,2026-02-18,2
            A1,,,,,2026-02-19,
            A1,,,,,2026-02-15,8
            """), "--json");
        Assert.Equal(2, outcome.Code);
        var summary = JsonDocument.Parse(outcome.Out).RootElement;
        var refused = summary.GetProperty("refused").EnumerateArray().ToDictionary(line => Number(line, "line"), line => Text(line, "why"));
        Assert.Equal(0, Number(summary, "written"));
        Assert.Equal([3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13], refused.Keys.Order());
        Assert.Contains("more up (13) than sown (12)", refused[3], StringComparison.Ordinal);
        Assert.Contains("2026-02-30", refused[4], StringComparison.Ordinal);
        Assert.Equal("line 4, which sows A2, cannot be used.", refused[5]);
        Assert.Contains("Did you mean tomato", refused[6], StringComparison.Ordinal);
        Assert.Contains("fill in seeds", refused[7], StringComparison.Ordinal);
        Assert.Contains("There is no spot \"attic\"", refused[8], StringComparison.Ordinal);
        Assert.Contains("\"yesterday\" is not a day", refused[9], StringComparison.Ordinal);
        Assert.Contains("still to come: write the time too", refused[10], StringComparison.Ordinal);
        Assert.Contains("name of the batch is missing", refused[11], StringComparison.Ordinal);
        Assert.Contains("has no up", refused[12], StringComparison.Ordinal);
        Assert.Empty((await rig.Json("batches", "--all")).EnumerateArray());
    }

    [Theory]
    [InlineData("batch,sown,crop\n", "there is no column \"seeds\"")]
    [InlineData("batch,sown,crop,seeds,lott\nA1,2026-02-10,tomato,3,x\n", "\"lott\" is no column of a notebook. Did you mean lot?")]
    [InlineData("batch,sown,crop,seeds,seeds\n", "there are two columns \"seeds\"")]
    [InlineData("batch,sown,crop,seeds\n", "has no lines under its header")]
    public async Task A_header_that_cannot_be_used_is_refused_in_one_line(string text, string why) =>
        Assert.Contains(why, await rig.Refusal("import-notebook", rig.Write("n.csv", text)), StringComparison.Ordinal);

    public void Dispose() => rig.Dispose();

    private Task Furnish() => rig.Do("spot add shelf", "lot add tom-24 --crop tomato --seeds 60 --year 2024");

    private static int Number(JsonElement element, string name) => element.GetProperty(name).GetInt32();

    private static string Text(JsonElement element, string name) => element.GetProperty(name).GetString()!;
}
