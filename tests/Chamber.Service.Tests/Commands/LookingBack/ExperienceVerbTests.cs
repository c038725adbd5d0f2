using System.Globalization;
using System.Text.Json;
using Chamber.Testing;
using MathNet.Numerics.Distributions;

namespace Chamber.Service.Tests.Commands.LookingBack;

/// <summary>Homes outside a club give one another what their batches have shown, as a file. Both homes are invented: in one everything
/// comes up a quarter quicker than the table says.</summary>
public sealed class ExperienceVerbTests : IDisposable
{
    private const double Quicker = 0.75;
    private const string Ordinal = "0123456789abcdef0123456789abcdef";

    private readonly HomeRig giver = new();
    private readonly HomeRig taker = new();

    public void Dispose()
    {
        giver.Dispose();
        taker.Dispose();
    }

    [Fact]
    public async Task A_newcomer_starts_from_what_another_home_gave_and_can_forget_it()
    {
        var file = await Give(3);
        var before = await Half();
        Assert.Contains("Nothing is taken from other homes", (await taker.Run("experience")).Out, StringComparison.Ordinal);

        var taken = await taker.Json("experience", "take", file);
        Assert.Equal((1, 3), (taken.GetProperty("homes").GetInt32(), taken.GetProperty("batches").GetInt32()));
        Assert.True(await Half() < before - 0.3);
        var learned = await taker.Json("learned");
        Assert.Equal((0, 1), (learned.GetProperty("batches").GetInt32(), learned.GetProperty("others").GetProperty("homes").GetInt32()));
        Assert.Contains("From another home's batches: forecasts start from these", (await taker.Run("learned")).Out,
            StringComparison.Ordinal);
        Assert.Contains("As the batches of 1 other home have taught, tomato takes ",
            (await taker.Run("forecast", "--crop", "tomato", "--at", "20C", "--seeds", "20")).Out, StringComparison.Ordinal);

        await taker.Do("experience forget");
        Assert.Equal(before, await Half(), 1e-9);
    }

    [Fact]
    public async Task A_share_is_replaced_and_taken_back_by_whoever_gave_it()
    {
        var file = await Give(2);
        await taker.Do($"experience take {file}", $"experience take {file}");
        Assert.Equal(1, (await taker.Json("experience")).GetProperty("homes").GetInt32());
        await giver.Do($"experience give {file} --nothing");
        Assert.Contains("in place of what 1 of them had given before", (await taker.Run("experience", "take", file)).Out,
            StringComparison.Ordinal);
        Assert.Equal(0, (await taker.Json("experience")).GetProperty("homes").GetInt32());
    }

    [Fact]
    public async Task What_is_given_names_nothing_and_is_not_taken_by_its_own_home()
    {
        var file = await Give(2);
        var text = await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken);
        foreach (var secret in new[] { "shelf", "T1", "T2", "2027", "2026" })
        {
            Assert.DoesNotContain(secret, text.Replace("\"spot\": \"shelf\"", "", StringComparison.Ordinal), StringComparison.Ordinal);
        }

        Assert.Equal(2, JsonDocument.Parse(text).RootElement.GetProperty("homes")[0].GetProperty("batches").GetArrayLength());
        await giver.Do($"experience take {file}");
        Assert.Equal(0, (await giver.Json("experience")).GetProperty("homes").GetInt32());
        var list = giver.Write("list.json", $"[{text}]");
        Assert.Equal("", (await Oracle.JsonSchema(SourceTree.Path("docs", "experience.schema.json"), list)).Trim());
    }

    [Theory]
    [InlineData("[1]", "the whole file: write an object in curly brackets here.")]
    [InlineData("{", "line 1: this is no JSON; ask for the file again.")]
    [InlineData("{}",
        "This is no file of experience: it has no \"format\": \"chamber experience\". One is made by: chamber experience give FILE")]
    [InlineData("VERSION 2", "version: 2 is newer than this program knows; update Chamber, or ask for a file of version 1.")]
    [InlineData("BATCH \"shift\": 7, \"doubt\": 0.1", "homes[0].batches[0].shift: 7 is outside -1.5 to 1.5 for how much longer than the "
        + "table says, as ln of the warm-hours: a batch that takes five times as long was hardly measured right; leave it out.")]
    [InlineData("BATCH \"shift\": 0.1", "homes[0].batches[0].doubt: it is missing; ask for the file again.")]
    [InlineData("BATCH \"shift\": 0.1, \"doubt\": \"little\"", "homes[0].batches[0].doubt: write a number here.")]
    [InlineData("BATCH \"shift\": 0.1, \"doubt\": 0.1, \"spot\": \"garage\"", "homes[0].batches[0].spot: write one of shelf, cupboard, "
        + "boilerCupboard, heatMat, applianceTop, electronics, aquariumSide, radiator, sill, refrigerator.")]
    [InlineData("BATCH \"shift\": 0.1, \"doubt\": 0.1, \"lot\": 1.5", "homes[0].batches[0].lot: write a whole number here.")]
    public async Task A_file_that_cannot_be_used_is_one_clear_error(string text, string error)
    {
        text = text.Split(' ', 2) switch
        {
            ["VERSION", var version] => $$"""{ "format": "chamber experience", "version": {{version}}, "homes": [] }""",
            ["BATCH", var more] => $$"""
                { "format": "chamber experience", "version": 1, "homes": [ { "home": "{{Ordinal}}", "batches": [
                { "crop": "tomato", "halfWarmHours": 1200, "baseCelsius": 8, "method": "coveredMix", {{more}} } ] } ] }
                """,
            _ => text,
        };
        var file = taker.Write("theirs.json", text);
        Assert.Equal($"chamber: {file}: {error}", await taker.Refusal("experience", "take", file));
    }

    [Fact]
    public async Task A_home_goes_on_when_its_own_file_is_broken()
    {
        await Measure(taker, 20);
        var before = await Half();
        taker.Write("experience.json", "{ broken");
        var outcome = await taker.Run("forecast", "--crop", "tomato", "--at", "20C", "--seeds", "20");
        Assert.Equal(0, outcome.Code);
        Assert.Contains("experience.json", outcome.Error, StringComparison.Ordinal);
        Assert.Equal(before, await Half(), 1e-9);
        await taker.Do("experience forget");
    }

    private async Task<double> Half() => (await taker.Json("forecast", "--crop", "tomato", "--at", "20C", "--seeds", "20"))
        .GetProperty("half").GetProperty("mid").GetDouble();

    private async Task<string> Give(int batches)
    {
        await Measure(giver, 14 + batches * 14);
        await giver.Do("lot add packet --crop tomato --seeds 200 --year 2026");
        for (var batch = 1; batch <= batches; batch++)
        {
            var sown = giver.Clock.GetUtcNow().AddDays(-14 * (batches - batch + 1));
            await giver.Do($"sow tomato --seeds 20 --spot shelf --lot packet --name T{batch} --when {At(sown)}");
            for (var day = 2; day <= 12; day += 2)
            {
                var share = Normal.CDF(0, 1, Math.Log(day / (7.4 * Quicker)) / 0.25);
                await giver.Do($"look T{batch} {Math.Round(18 * share)} --when {At(sown.AddDays(day))}");
            }

            await giver.Do($"end T{batch} --when {At(sown.AddDays(12.5))}");
        }

        var file = giver.File("given.json");
        await giver.Do($"experience give {file}");
        return file;
    }

    private static string At(DateTimeOffset when) => when.ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture);

    private static async Task Measure(HomeRig home, int days)
    {
        var start = home.Clock.GetUtcNow();
        var rows = Enumerable.Range(0, days * 24).Select(hour => string.Create(CultureInfo.InvariantCulture,
            $"{At(start.AddHours(hour))},{20 + 1.5 * Math.Sin(hour / 24.0 * Math.Tau) + 0.3 * Math.Sin(hour / 37.0):0.00}"));
        await File.WriteAllLinesAsync(home.File("shelf.csv"), ["at,temperature", .. rows], TestContext.Current.CancellationToken);
        home.Clock.SetUtcNow(start.AddDays(days));
        await home.Do("spot add shelf --kind shelf --light dim --room 9", "probe add p1 --measures media",
            $"probe move p1 shelf --when {At(start)}", $"import {home.File("shelf.csv")} --probe p1");
    }
}
