using Chamber.Service.Commands;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Tests.Commands;

/// <summary>What is on a terminal of 80 columns: no line is longer, and no word is broken. The home is invented.</summary>
public sealed class NarrowScreenTests : IDisposable
{
    private readonly HomeRig home = new();

    public static TheoryData<string> Lines => ["batches", "spots", "spots --crop okra", "lots", "probes", "place tomato", "todo", "crops",
        "cautions", "refusals", "season", "dates tomato:3 basil:2 --last-frost 2027-05-10", "lot show okra-autumn", "alerts", "help"];

    public void Dispose() => home.Dispose();

    [Theory]
    [MemberData(nameof(Lines))]
    public async Task Eighty_columns_hold_every_answer(string line)
    {
        await home.Do("spot add boiler-cupboard-upstairs --kind boiler-cupboard --light dark --room 4",
            "probe add kitchen-thermometer-1 --measures media --spot boiler-cupboard-upstairs", "read kitchen-thermometer-1 23.4C",
            "lot add okra-autumn --crop okra --seeds 60 --year 2025 --variety green --price 2.15",
            "sow okra --seeds 12 --spot boiler-cupboard-upstairs --lot okra-autumn --name K1 --when 2027-02-25");
        var told = await Narrow([.. line.Split(' '), "--data", home.Path]);
        Assert.All(told.Split('\n').Where(shown => !shown.Contains("chamber ", StringComparison.Ordinal)),
            shown => Assert.True(shown.TrimEnd().Length <= 80, shown));
        foreach (var name in (string[])["boiler-cupboard-upstairs", "kitchen-thermometer-1", "okra-autumn"])
        {
            // A name that is begun is ended on its line.
            Assert.Equal(Count(told, name[..^2]), Count(told, name));
        }
    }

    [Fact]
    public async Task A_table_too_wide_becomes_a_line_for_each_row()
    {
        await home.Do("spot add boiler-cupboard-upstairs --kind boiler-cupboard --light dark --room 4",
            "probe add kitchen-thermometer-1 --measures media --spot boiler-cupboard-upstairs", "read kitchen-thermometer-1 23.4C");
        var told = await Narrow(["probes", "--data", home.Path]);
        Assert.StartsWith("kitchen-thermometer-1\n  Spot: boiler-cupboard-upstairs · Measures: media · Last °C: 23.4", told,
            StringComparison.Ordinal);
    }

    private static int Count(string text, string part) => text.Split(part).Length - 1;

    private async Task<string> Narrow(string[] arguments)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await CommandLine.Run(arguments, new CommandContext(output, error, home.Clock, name => name == "COLUMNS" ? "80" : null,
            IsTerminal: false));
        Assert.True(code == 0, error.ToString());
        return output.ToString();
    }
}
