using System.Globalization;
using System.Text;

namespace Chamber.Service.Tests.Commands;

/// <summary>All answers about days rest on the same knowledge and say so. The home is invented: everything there takes half as long again
/// as in the tables, and each answer is compared with the other.</summary>
public sealed class OneKnowledgeTests : IDisposable
{
    private readonly HomeRig home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task A_ranking_says_the_days_of_the_forecast()
    {
        await Teach();
        var forecast = await home.Json("forecast", "--crop", "tomato", "--spot", "ledge");
        var ranked = (await home.Json("spots", "--crop", "tomato"))[0];
        Assert.Equal(Half(forecast), ranked.GetProperty("daysToHalf").GetDouble(), 9);
        var ofSpot = (await home.Json("spots", "--spot", "ledge")).EnumerateArray()
            .Single(line => line.GetProperty("crop").GetString() == "tomato");
        Assert.Equal(Half(forecast), ofSpot.GetProperty("daysToHalf").GetDouble(), 9);
        Assert.Equal(3, forecast.GetProperty("learnedFromBatches").GetInt32());
    }

    [Fact]
    public async Task Without_a_spot_days_are_those_that_were_learned()
    {
        var before = await home.Json("forecast", "--crop", "tomato", "--at", "22C");
        var dates = await Dates();
        await Teach();
        var after = await home.Json("forecast", "--crop", "tomato", "--at", "22C");
        Assert.True(Half(after) > 1.2 * Half(before), $"{Half(before)} and then {Half(after)}");
        Assert.True(await Dates() > 1.2 * dates);

        async Task<double> Dates() => (await home.Json("dates", "tomato:3", "--last-frost", "2027-05-10"))
            .GetProperty("crops")[0].GetProperty("daysUp").GetProperty("mid").GetDouble();
    }

    [Theory]
    [InlineData("spots --crop tomato")]
    [InlineData("forecast --crop tomato --spot ledge")]
    [InlineData("forecast --crop tomato --at 22C")]
    [InlineData("dates tomato:3 --last-frost 2027-05-10")]
    [InlineData("dates tomato:3 --last-frost 2027-05-10 --spot ledge")]
    public async Task An_answer_says_what_its_days_rest_on(string line)
    {
        await Teach();
        var told = string.Join(' ', (await home.Run(line.Split(' '))).Out.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        Assert.Contains("As 3 batches have taught, tomato takes", told, StringComparison.Ordinal);
        Assert.Contains("% longer here than in the tables.", told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_a_look_the_tables_are_named()
    {
        var told = (await home.Run("forecast", "--crop", "tomato", "--at", "22C")).Out;
        Assert.Contains("Days are those of the tables: no batch of yours has taught anything yet.", told, StringComparison.Ordinal);
        Assert.False(File.Exists(home.File("chamber.db")));
    }

    [Fact]
    public async Task A_lot_is_forecast_by_what_is_known_of_it()
    {
        await Teach();
        await home.Do("lot add tired --crop tomato --seeds 60 --year 2003");
        var usual = await home.Json("forecast", "--crop", "tomato", "--at", "22C");
        var tired = await home.Json("forecast", "--lot", "tired", "--at", "22C");
        Assert.True(Stand(tired) < Stand(usual) - 0.1, $"{Stand(tired)} of old seed, {Stand(usual)} of any");
        Assert.Equal("chamber: Lot tired is tomato, and not basil: leave out --crop.",
            await home.Refusal("forecast", "--crop", "basil", "--lot", "tired", "--at", "22C"));
        Assert.Contains("Stop waiting", (await home.Run("forecast", "--lot", "tired", "--at", "22C")).Out, StringComparison.Ordinal);

        static double Stand(System.Text.Json.JsonElement answer) => answer.GetProperty("stand").GetProperty("mid").GetDouble();
    }

    private static double Half(System.Text.Json.JsonElement answer) => answer.GetProperty("half").GetProperty("mid").GetDouble();

    // Three batches at a steady 22 °C, of which half are up after about 13 days; the tables say 8.
    private async Task Teach()
    {
        var log = new StringBuilder("at,temperature\n");
        for (var hour = 0; hour <= 40 * 24; hour++)
        {
            log.Append(CultureInfo.InvariantCulture, $"{new DateTime(2027, 1, 20, 7, 0, 0).AddHours(hour):yyyy-MM-dd'T'HH:mm:ss'Z'},22\n");
        }

        await home.Do("spot add ledge --light bright --room 9", "probe add glass --measures media --spot ledge");
        await home.Do("probe move glass ledge --when 2027-01-20T06:00:00Z",
            $"import {home.Write("log.csv", log.ToString())} --probe glass");
        foreach (var batch in (string[])["A", "B", "C"])
        {
            await home.Do($"sow tomato --seeds 20 --spot ledge --name {batch} --when 2027-02-01", $"look {batch} 0 --when 2027-02-11",
                $"look {batch} 9 --when 2027-02-14", $"look {batch} 18 --when 2027-02-20");
        }
    }
}
