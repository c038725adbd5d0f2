using System.Text.Json;
using System.Text.RegularExpressions;
using Chamber.Service.Commands;
using Chamber.Testing;

namespace Chamber.Service.Tests.Commands.EveryVerb;

/// <summary>A verb typed with the name of a crop, spot, lot, batch or probe alone, as a newcomer types it: it is answered, or it says a
/// line that can be typed. The homes are invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed partial class BareNamesTests(FourHomes homes) : IClassFixture<FourHomes>
{
    private const string Home = "one";

    // They run until they are stopped, write what a name alone asks for, or say first that no channel is set up.
    private static readonly string[] NotAsked = ["run", "demo", "listen", "restore", "undo", "backup", "notify-test"];

    private static readonly string[] Names = ["basil", "SPOT", "LOT", "BATCH", "PROBE"];

    [Fact]
    public async Task Every_verb_with_a_name_alone_is_answered_or_says_a_line_to_type()
    {
        var faults = new List<string>();
        foreach (var verb in Verbs.Names.Except(NotAsked))
        {
            foreach (var name in Names)
            {
                await homes.Undone(Home, async () =>
                {
                    var outcome = await homes.Run(Home, $"{verb} {name}");
                    if (outcome.Code != 0 && !await SaysALine(outcome.Error))
                    {
                        faults.Add($"{verb} {name}: {outcome.Error}");
                    }
                });
            }
        }

        Assert.True(faults.Count == 0, string.Concat(faults));
    }

    [Theory]
    [InlineData("forecast basil SPOT", "forecast --crop basil --spot SPOT")]
    [InlineData("forecast LOT --at 22C", "forecast --lot LOT --at 22C")]
    [InlineData("spots basil", "spots --crop basil")]
    [InlineData("spots SPOT", "spots --spot SPOT")]
    [InlineData("warmth basil SPOT", "warmth --crop basil --spot SPOT")]
    [InlineData("warmth BATCH", "warmth --batch BATCH")]
    [InlineData("plan LOT --plants 3", "plan --lot LOT --plants 3")]
    [InlineData("refusals PROBE", "refusals --probe PROBE")]
    [InlineData("compare T1 O1", "compare --batches T1 --batches O1")]
    public async Task A_name_alone_is_understood_as_its_option(string typed, string meant)
    {
        var asked = await homes.Run("demo", meant);
        Assert.Equal(0, asked.Code);
        Assert.Equal(asked, await homes.Run("demo", typed));
    }

    [Theory]
    [InlineData("review basil", "There is no batch \"basil\". basil is a crop: chamber spots --crop basil")]
    [InlineData("lot shelf", "\"chamber lot\" has no \"shelf\". shelf is a spot: chamber spots --spot shelf")]
    [InlineData("T1", "\"chamber\" has no \"T1\". T1 is a batch: chamber batches T1")]
    [InlineData("week T1", "\"chamber week\" takes no \"T1\" here. T1 is a batch: chamber batches T1")]
    [InlineData("forecast T1", "\"chamber forecast\" takes no \"T1\" here. T1 is a batch: chamber batches T1")]
    [InlineData("crops shelf-air", "shelf-air is a probe: chamber probes")]
    public async Task What_a_verb_does_not_take_is_answered_by_the_line_that_does(string typed, string told)
    {
        var outcome = await homes.Run(Home, typed);
        Assert.Equal((2, ""), (outcome.Code, outcome.Out));
        Assert.Contains(told, outcome.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("sow carrot --seeds 2 --spot SPOT --lot LOT", "chamber: Lot \"tomato-24\" is tomato, not carrot.\n")]
    [InlineData("look T1 3", "chamber: T1: more up (3) than sown (1); correct the count, or the number of seeds of the batch.\n")]
    public async Task What_is_wrong_otherwise_gets_no_such_line(string typed, string told) =>
        Assert.Equal(told, (await homes.Run(Home, typed)).Error);

    [Fact]
    public async Task A_crop_alone_is_forecast_on_each_spot()
    {
        var told = (await homes.Run("demo", "forecast basil")).Out;
        Assert.StartsWith("Basil: soonest on ", told, StringComparison.Ordinal);
        var answer = await Json("forecast basil");
        var spots = await Json("spots");
        Assert.Equal(spots.EnumerateArray().Select(spot => spot.GetProperty("spot").GetString()).Order(),
            answer.EnumerateArray().Select(one => one.GetProperty("spot").GetString()).Order());
        foreach (var one in answer.EnumerateArray().Where(one => one.GetProperty("forecast").ValueKind != JsonValueKind.Null))
        {
            var alone = await Json($"forecast --crop basil --spot {one.GetProperty("spot").GetString()}");
            Assert.True(JsonElement.DeepEquals(alone, one.GetProperty("forecast")), alone.GetRawText());
        }
    }

    private async Task<JsonElement> Json(string line) => JsonDocument.Parse((await homes.Run("demo", $"{line} --json")).Out).RootElement;

    // The line itself can be typed, or is one of the program's own examples, which another test runs.
    private async Task<bool> SaysALine(string error)
    {
        if (error.Contains("as in: chamber ", StringComparison.OrdinalIgnoreCase))
        {
            return true;
        }

        var lines = Line().Matches(error.TrimEnd()).Select(match => match.Groups["line"].Value.TrimEnd('.')).ToList();

        // What rests on a thing keeps it from being taken away, which is another answer.
        return lines.Count > 0
            && (lines[^1].StartsWith("remove ", StringComparison.Ordinal) || (await homes.Run(Home, lines[^1])).Code == 0);
    }

    [GeneratedRegex(@"\bchamber (?<line>[a-z-]+( [\w./:=-]+)*)")]
    private static partial Regex Line();
}
