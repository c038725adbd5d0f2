using System.Text.Json.Nodes;
using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>The forms that other programs rely on, by the built program: names of fields, their units, and golden answers. Sums are worked
/// out by hand from the trace beside them.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class ReliedOnFormsTests : IDisposable
{
    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task Crops_gives_the_numbers_of_a_crop()
    {
        var crop = await Json("crops", "tomato", "--json");
        Has(crop, "base", "optimumLow", "optimumHigh", "ceiling", "halfWarmHours", "spread", "band", "coolLimit", "hotLimit", "sources");
        Assert.Equal(["low", "high"], crop["band"]!.AsObject().Select(pair => pair.Key));
        Assert.True(Number(crop["base"]) < Number(crop["optimumLow"]) && Number(crop["optimumHigh"]) < Number(crop["ceiling"]));
        Assert.NotEmpty(crop["sources"]!.AsArray());
    }

    [Fact]
    public async Task Warmth_adds_up_a_trace_exactly()
    {
        // Base 11.8 °C, foot 9 K and plateau from 22 °C (crops tomato): an hour at 17.8 °C is 15²/36 = 6.25 °C·h, one at 14.8 °C 12²/36 =
        // 4, and a line from 17.8 to 20.8 °C over an hour (15² + 15 · 18 + 18²)/108.
        var trace = folder.Write("trace.csv", """
            at,temperature
            2026-03-01T00:00:00Z,17.8
            2026-03-01T01:00:00Z,17.8
            2026-03-01T02:00:00Z,17.8
            2026-03-01T03:00:00Z,20.8
            2026-03-01T08:00:00Z,14.8
            2026-03-01T09:00:00Z,14.8
            """);
        var warmth = await Json("warmth", "--crop", "tomato", "--trace", trace, "--json");
        Assert.Equal(6.25 + 6.25 + 819 / 108.0 + 4, Number(warmth["warmHours"]), 6);
        Assert.Equal(4, Number(warmth["measuredHours"]), 6);
        Assert.Equal(0, Number(warmth["estimatedHours"]), 6);
        Assert.Equal(5, Number(warmth["unknownHours"]), 6);
        Assert.Equal(1, Number(warmth["hoursBelow"]), 6);
        Assert.Equal(0, Number(warmth["hoursAbove"]), 6);

        var bridged = await Json("warmth", "--crop", "tomato", "--trace", trace, "--json", "--max-gap", "6h");
        Assert.Equal(9, Number(bridged["measuredHours"]), 6);
        Assert.Equal(0, Number(bridged["unknownHours"]), 6);
    }

    [Fact]
    public async Task Forecast_gives_days_as_intervals()
    {
        var forecast = await Json("forecast", "--crop", "tomato", "--at", "20C", "--seeds", "12", "--json");
        Assert.Equal("shootSeen", forecast["event"]!.GetValue<string>());
        foreach (var name in new[] { "first", "half", "most", "stand" })
        {
            var interval = forecast[name]!;
            Assert.True(Number(interval["low"]) <= Number(interval["mid"]) && Number(interval["mid"]) <= Number(interval["high"]), name);
        }

        // Harrington and Minges (1954): tomato at 20 °C is up after 8 days.
        Assert.InRange(8, Number(forecast["half"]!["low"]), Number(forecast["half"]!["high"]));
        Assert.InRange(Number(forecast["stand"]!["high"]), 0, 1);
        Assert.NotEmpty(forecast["sources"]!.AsArray());
    }

    [Fact]
    public async Task Forecast_along_a_steady_trace_is_the_steady_forecast()
    {
        var trace = folder.Write("steady.csv", "at,temperature\n2026-03-01T00:00:00Z,20\n2026-03-02T00:00:00Z,20\n");
        var along = await Json("forecast", "--crop", "tomato", "--trace", trace, "--seeds", "12", "--json");
        var steady = await Json("forecast", "--crop", "tomato", "--at", "68F", "--seeds", "12", "--json");
        Assert.Equal(Number(steady["half"]!["mid"]), Number(along["half"]!["mid"]), 0.02);
    }

    [Fact]
    public async Task Spots_are_ranked_for_a_crop_best_first()
    {
        await Surveyed("warm", 27);
        await Surveyed("cool", 16);
        var spots = (await Run("spots", "--crop", "basil", "--json")).AsArray();
        Assert.Equal(["warm", "cool"], spots.Select(spot => spot!["spot"]!.GetValue<string>()));
        Has(spots[0]!.AsObject(), "spot", "suitability", "low", "high", "confidence", "daysToHalf", "because");
        Assert.True(Number(spots[0]!["suitability"]) > Number(spots[1]!["suitability"]));
    }

    private async Task Surveyed(string spot, double celsius)
    {
        var now = TimeProvider.System.GetUtcNow();
        var lines = Enumerable.Range(0, 4 * 24)
            .Select(hour =>
            $"{now.AddHours(hour - 4 * 24):yyyy-MM-ddTHH:mm:ssZ},{celsius.ToString(System.Globalization.CultureInfo.InvariantCulture)}");
        var file = folder.Write(spot + ".csv", "at,temperature\n" + string.Join('\n', lines) + "\n");
        await Run("spot", "add", spot, "--json");
        await Run("import", file, "--probe", spot + "-probe", "--json");
        await Run("probe", "move", spot + "-probe", spot, "--when", $"{now.AddDays(-5):yyyy-MM-ddTHH:mm:ssZ}", "--json");
    }

    private async Task<JsonObject> Json(params string[] arguments) => (await Run(arguments)).AsObject();

    private async Task<JsonNode> Run(params string[] arguments)
    {
        var result = await ChamberProcess.Run([.. arguments, "--data", folder.Path]);
        Assert.Equal((0, string.Empty), (result.ExitCode, result.Errors));
        return JsonNode.Parse(result.Output)!;
    }

    private static void Has(JsonObject answer, params string[] names) => Assert.Empty(names.Except(answer.Select(pair => pair.Key)));

    private static double Number(JsonNode? node) => node!.GetValue<double>();
}
