using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>Every verb by the built program, as a grower types it: what it says, where it says it, and its exit code. Values are invented;
/// °F are turned into °C by definition.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class VerbsInUseTests : IDisposable
{
    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("66F", "18.9 °C on shelf")]
    [InlineData("23.4C", "23.4 °C on shelf")]
    public async Task A_thermometer_is_read_in_either_unit(string typed, string said)
    {
        await Good("spot", "add", "shelf");
        Assert.StartsWith(said, await Good("read", "shelf", typed), StringComparison.Ordinal);
        Assert.Contains("shelf", await Good("probes"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("chamber: \"75\" has no unit: write 75C or 75F.", "read", "shelf", "75")]
    [InlineData("chamber: 75C looks like °F: write the unit that the thermometer shows. If it is right anyway, add --sure.", "read",
        "shelf", "75C")]
    [InlineData("chamber: \"tomatoe\" is not in the crop catalog. Did you mean tomato?", "crops", "tomatoe")]
    [InlineData("chamber: Say where: --at 20C, --trace FILE.csv or --spot NAME. As in: chamber forecast --crop tomato --at 22C",
        "forecast", "--crop", "tomato")]
    [InlineData("chamber: --max-gap \"2\" is not a length of time: write a number and its unit, such as 30min, 2h or 3d.", "warmth",
        "--crop", "tomato", "--trace", "x.csv", "--max-gap", "2")]
    [InlineData("chamber: There is no spot yet. Add one: chamber spot add nowhere --kind shelf", "sow", "tomato", "--seeds", "12",
        "--spot", "nowhere")]
    [InlineData("chamber: There is no batch \"T9\". All of them: chamber batches --all", "look", "T9", "1")]
    [InlineData("chamber: --kind \"roof\" is none of shelf, cupboard, boiler-cupboard, heat-mat, appliance-top, electronics, "
        + "aquarium-side, radiator, sill, refrigerator.", "spot", "add", "x", "--kind", "roof")]
    [InlineData("chamber: \"a/b\" cannot name a probe: use 1 to 48 letters, digits, '-', '_' or '.', starting with a letter or digit.",
        "probe", "add", "a/b")]
    public async Task Bad_input_is_told_in_one_line_on_standard_error(string line, params string[] arguments)
    {
        var result = await ChamberProcess.Run([.. arguments, "--data", folder.Path]);
        Assert.Equal((2, string.Empty, line), (result.ExitCode, result.Output, result.Errors));
    }

    [Fact]
    public async Task A_batch_is_sown_looked_at_moved_and_ended()
    {
        await Good("spot", "add", "shelf");
        await Good("spot", "add", "sill", "--light", "bright");
        await Good("read", "shelf", "24C");
        Assert.StartsWith("T1: 12 tomato on shelf, covered mix, sown ", await Good("sow", "tomato", "--seeds", "12", "--spot", "shelf"),
            StringComparison.Ordinal);
        Assert.StartsWith("T1: 0 of 12 up", await Good("look", "T1", "0"), StringComparison.Ordinal);
        Assert.Contains("The first is up.", await Good("look", "T1", "3"), StringComparison.Ordinal);
        var refused = await ChamberProcess.Run("look", "T1", "13", "--data", folder.Path);
        Assert.Equal((2, "chamber: T1: more up (13) than sown (12); correct the count, or the number of seeds of the batch."),
            (refused.ExitCode, refused.Errors));
        Assert.StartsWith("T1 stands on sill", await Good("move", "T1", "sill"), StringComparison.Ordinal);
        Assert.Contains("3 of 12", await Good("batches"), StringComparison.Ordinal);
        Assert.Contains("3 of 12 came up", await Good("end", "T1"), StringComparison.Ordinal);
        Assert.StartsWith("No batch is under way.", await Good("batches"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_home_without_anything_says_what_to_do_first()
    {
        Assert.StartsWith("There is no spot yet.\nAdd one: chamber spot add ", await Good("spots"), StringComparison.Ordinal);
        Assert.StartsWith("No probe has spoken yet.", await Good("probes"), StringComparison.Ordinal);
        Assert.StartsWith("No alert is open, but nothing is being watched: the service is not running.",
            await Good("alerts"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_backup_is_read_back_and_can_be_restored()
    {
        await Good("read", "shelf", "21C");
        var file = Path.Combine(folder.Path, "copy.db");
        Assert.Contains("read back and complete", await Good("backup", file), StringComparison.Ordinal);
        var again = await ChamberProcess.Run("backup", file, "--data", folder.Path);
        Assert.Equal((2, $"chamber: {file} exists already: name a new file, or move that one away."), (again.ExitCode, again.Errors));

        using var elsewhere = new TempFolder();
        var restored = await ChamberProcess.Run("restore", file, "--data", elsewhere.Path);
        Assert.Equal(0, restored.ExitCode);
        Assert.Contains("21", (await ChamberProcess.Run("probes", "--data", elsewhere.Path)).Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_users_own_band_wins_over_the_catalog()
    {
        folder.Write("crops.json", """{ "beet": { "band": { "low": "64F", "high": "72F" }, "source": "Grandmother's notebook" } }""");
        Assert.StartsWith("Beet comes up best at 17.8 to 22.2 °C.", await Good("crops", "beet"), StringComparison.Ordinal);

        folder.Write("crops.json", "{\n  \"beet\": {\n    \"band\": { \"low\": \"64\", \"high\": \"72F\" }\n  }\n}");
        var refused = await ChamberProcess.Run("crops", "beet", "--data", folder.Path);
        Assert.Equal((2, $"chamber: {folder.Path}/crops.json line 3: beet.band.low: \"64\" has no unit: write 64C or 64F."),
            (refused.ExitCode, refused.Errors));
    }

    [Fact]
    public async Task Colours_stay_out_of_files_and_pipes()
    {
        Assert.DoesNotContain('\u001b', await Good("crops"));
    }

    [Fact]
    public async Task A_file_that_is_no_database_is_told_and_left_alone()
    {
        var file = folder.Write("chamber.db", "this is somebody's shopping list, longer than a header of a database would have to be\n");
        var result = await ChamberProcess.Run("probes", "--data", folder.Path);
        Assert.Equal(1, result.ExitCode);
        Assert.Contains("the file is not a database.", result.Errors, StringComparison.Ordinal);
        Assert.Single(result.Errors.Split('\n'));
        Assert.StartsWith("this is somebody's", await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
    }

    private async Task<string> Good(params string[] arguments)
    {
        var result = await ChamberProcess.Run([.. arguments, "--data", folder.Path]);
        Assert.Equal((0, string.Empty), (result.ExitCode, result.Errors));
        return result.Output;
    }
}
