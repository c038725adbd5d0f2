using System.Text.Json;

namespace Chamber.Service.Tests.Commands.LookingBack;

/// <summary>What was written down, by whom and when, and putting it right at the command line.</summary>
public sealed class HistoryVerbTests : IDisposable
{
    private readonly HomeRig rig = new();

    [Fact]
    public async Task A_long_record_wraps_in_its_column()
    {
        await Furnish();
        Assert.Equal(0, (await rig.Run("note", "T1", string.Join(' ', Enumerable.Repeat("turned", 30)))).Code);
        var lines = (await rig.Run("history", "batch", "T1")).Out.TrimEnd().Split('\n');

        Assert.Matches(@"^No\.\s+When\s+Written\s+By\s+What\s*$", lines[0]);
        Assert.All(lines, line => Assert.True(line.TrimEnd().Length <= 120, line));
    }

    [Fact]
    public async Task A_history_says_who_wrote_what_and_when()
    {
        await Furnish();
        var lines = (await rig.Json("history", "batch", "T1")).EnumerateArray().ToArray();
        Assert.Equal(["12 seeds of tomato sown as T1, covered mix, on shelf", "T1 looked at, 5 up, one mouldy"], lines.Select(line =>
            Text(line, "what")));
        Assert.Equal((Environment.UserName, "commandLine", "counts"), (Text(lines[1], "by"), Text(lines[1], "way"), Text(lines[1],
            "standing")));
        Assert.Equal("2027-02-20T09:00:00Z", Text(lines[1], "at"));
        Assert.Equal("2027-03-01T08:00:00Z", Text(lines[1], "writtenAt"));

        var all = await rig.Run("history");
        Assert.Contains("spot shelf set up", all.Out, StringComparison.Ordinal);
        var entry = await rig.Run("history", "3");
        Assert.Contains("up=5", entry.Out, StringComparison.Ordinal);
        Assert.Equal("Nothing is written down of a batch \"T9\". Everything: chamber history", (await rig.Refusal("history", "batch",
            "T9"))["chamber: ".Length..]);
    }

    [Fact]
    public async Task Undo_goes_back_act_by_act()
    {
        await Furnish();
        await rig.Do("end T1", "undo");
        Assert.Equal(JsonValueKind.Null, (await Batch()).GetProperty("endedAt").ValueKind);
        await rig.Do("undo");
        Assert.Single((await rig.Json("spots")).EnumerateArray());
        await rig.Do("undo");
        Assert.Equal(JsonValueKind.Null, (await Batch()).GetProperty("up").ValueKind);
        var undone = await rig.Run("undo");
        Assert.StartsWith("Taken back: 12 seeds of tomato sown as T1", undone.Out, StringComparison.Ordinal);
        Assert.Empty((await rig.Json("batches")).EnumerateArray());
        await rig.Do("undo");
        Assert.Contains("There is nothing to take back.", await rig.Refusal("undo"), StringComparison.Ordinal);
        Assert.Equal(5, (await rig.Json("history")).EnumerateArray().Count(line => Text(line, "standing") == "takenBack"));
    }

    [Fact]
    public async Task What_is_corrected_changes_every_answer()
    {
        await Furnish();
        await rig.Do("correct 3 up=7 note= --when 2027-02-21");
        var batch = await Batch();
        Assert.Equal((7, "2027-02-21T12:00:00Z"), (batch.GetProperty("up").GetInt32(), Text(batch, "lookedAt")));
        var line = (await rig.Json("history", "3")).GetProperty("line");
        Assert.Equal(("T1 looked at, 7 up", "corrected"), (Text(line, "what"), Text(line, "standing")));

        await rig.Do("undo");
        Assert.Equal(5, (await Batch()).GetProperty("up").GetInt32());
        Assert.Contains("more up (13) than sown (12)", await rig.Refusal("correct", "3", "up=13"), StringComparison.Ordinal);
        Assert.Contains("Entry 3 rests on that", await rig.Refusal("correct", "2", "seeds=4"), StringComparison.Ordinal);
        Assert.Contains("This is no batch-looked", await rig.Refusal("correct", "3", "upp=4"), StringComparison.Ordinal);
        Assert.Equal("chamber: \"up\" is given twice: give each part once.", await rig.Refusal("correct", "3", "up=4", "up=5"));
        Assert.Equal("chamber: \"=4\" is not a correction: write NAME=VALUE, such as up=7.", await rig.Refusal("correct", "3", "=4"));
        Assert.Contains("There is no entry 99", await rig.Refusal("correct", "99", "up=4"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_renamed_thing_keeps_its_history_and_a_removed_one_is_gone()
    {
        await Furnish();
        await rig.Do("rename spot shelf warm-shelf", "rename batch T1 M7");
        Assert.Equal("warm-shelf", Text((await rig.Json("batches"))[0], "spot"));
        Assert.Equal(3, (await rig.Json("history", "batch", "M7")).GetArrayLength());
        Assert.Contains("There is a spot \"sill\" already", await Renamed("spot", "warm-shelf", "sill"), StringComparison.Ordinal);

        await rig.Do("remove batch M7");
        Assert.Empty((await rig.Json("batches", "--all")).EnumerateArray());
        await rig.Do("undo");
        Assert.Equal("M7", Text((await rig.Json("batches"))[0], "batch"));
    }

    [Fact]
    public async Task Readings_set_aside_count_for_nothing_until_they_are_used_again()
    {
        await rig.Do("spot add shelf", "read shelf 20C --when 06:00", "read shelf 45C --when 07:00", "read shelf 21C --when 07:50");
        await rig.Do("set-aside thermometer-shelf --from 06:30 --to 07:30 --why spilt");
        Assert.Equal(2, Readings());
        var set = (await rig.Json("history", "probe", "thermometer-shelf")).EnumerateArray().Last();
        await rig.Do($"remove {set.GetProperty("number").GetInt64()}");
        Assert.Equal(3, Readings());

        int Readings()
        {
            using var store = Chamber.Storage.ChamberStore.Open(rig.File("chamber.db"));
            return store.Journal.Read(new("thermometer-shelf"), new(null, null)).Count();
        }
    }

    [Fact]
    public async Task A_home_taken_out_and_read_in_elsewhere_gives_the_same_answers()
    {
        await Furnish();
        await rig.Do(
            "lot add tom-24 --crop tomato --seeds 60 --year 2024 --price 1.50",
                "sow tomato --seeds 10 --spot sill --lot tom-24 --name T2 --when 2027-02-25",
            "read shelf 20.5C --when 06:00", "read shelf 21C --when 07:00", "correct 3 up=6", "stage T1 pricked-out --plants 3",
                "plant-out T1 2027-05-17");
        var log = rig.Write("log.csv", "at,probe,temperature\n2027-02-28T08:00:00Z,attic,21.0\n2027-02-28T09:00:00Z,attic,999\n");
        await rig.Run("import", log);
        await rig.Do($"export --all --out {rig.File("whole")}");
        using var other = new HomeRig();
        await other.Do($"import-home {rig.File("whole")}", $"import-home {rig.File("whole")}");
        Assert.Equal(1, (await other.Json("refusals")).GetProperty("counts")[0].GetProperty("count").GetInt64());
        foreach (var question in (string[])["batches --all", "lots", "spots", "probes", "todo", "season", "hindsight", "learned",
            "alerts --all", "history", "export", "review T1", "place tomato",
            "refusals"])
        {
            Assert.Equal((await rig.Run([.. question.Split(' '), "--json"])).Out, (await other.Run([.. question.Split(' '),
                "--json"])).Out);
        }
    }

    [Fact]
    public async Task A_second_home_joins_and_clashing_names_are_asked_about()
    {
        await Furnish();
        using var parents = new HomeRig();
        await parents.Do("spot add sill --kind sill --light bright", "lot add old-box --crop basil --seeds 40",
            "sow basil --seeds 9 --spot sill --lot old-box --name T1 --when 2027-02-10");
        await parents.Do($"export --all --out {parents.File("whole")}");

        var asked = await rig.Refusal("import-home", parents.File("whole"));
        Assert.Contains("Both homes have spot:sill, batch:T1: say what theirs are called here.", asked, StringComparison.Ordinal);
        await rig.Do($"import-home {parents.File("whole")} --called batch:T1=B1 --same spot:sill");
        Assert.Equal(["B1", "T1"], (await rig.Json("batches")).EnumerateArray().Select(batch => Text(batch, "batch")).Order());
        Assert.Equal(40, (await rig.Json("lots"))[0].GetProperty("left").GetInt32());
        await rig.Do("undo");
        Assert.Single((await rig.Json("batches")).EnumerateArray());
    }

    [Fact]
    public async Task An_import_that_was_broken_off_goes_on_where_it_stopped()
    {
        await Furnish();
        await rig.Do("read shelf 20.5C --when 06:00", "read shelf 21C --when 07:00", $"export --all --out {rig.File("whole")}");
        var (path, whole) = (rig.File("whole/readings.csv"), File.ReadAllText(rig.File("whole/readings.csv")));
        using var empty = new HomeRig();
        using var other = new HomeRig();
        await other.Do("spot add mat --kind heat-mat");
        foreach (var home in (HomeRig[])[empty, other])
        {
            File.WriteAllText(path, whole.Replace(",21,", ",warm,", StringComparison.Ordinal));
            Assert.Contains("Correct it and run the same again: it goes on where it stopped.",
                await home.Refusal("import-home", rig.File("whole")), StringComparison.Ordinal);

            File.WriteAllText(path, whole);
            await home.Do($"import-home {rig.File("whole")}");
            Assert.Equal((await rig.Run("probes", "--json")).Out, (await home.Run("probes", "--json")).Out);
            Assert.Equal(["T1"], (await home.Json("batches")).EnumerateArray().Select(batch => Text(batch, "batch")));
        }
    }

    public void Dispose() => rig.Dispose();

    private async Task Furnish()
    {
        await rig.Do("spot add shelf", "sow tomato --seeds 12 --spot shelf --name T1 --when 2027-02-10");
        var outcome = await rig.Run("look", "T1", "5", "--note", "one mouldy", "--when", "2027-02-20 09:00");
        Assert.Equal(0, outcome.Code);
        await rig.Do("spot add sill --kind sill --light bright");
    }

    private async Task<JsonElement> Batch() => (await rig.Json("batches", "--all"))[0];

    private async Task<string> Renamed(params string[] names) => await rig.Refusal(["rename", .. names]);

    private static string Text(JsonElement line, string name) => line.GetProperty(name).GetString()!;
}
