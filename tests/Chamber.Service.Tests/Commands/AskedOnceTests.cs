namespace Chamber.Service.Tests.Commands;

/// <summary>What is asked once is kept, and what can be sown this week from one's own seed. Homes and days are invented.</summary>
public sealed class AskedOnceTests : IDisposable
{
    private readonly HomeRig home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task The_last_frost_is_asked_once()
    {
        Assert.StartsWith("chamber: --last-frost is needed", await home.Refusal("dates", "tomato:3"), StringComparison.Ordinal);
        var said = await home.Json("dates", "tomato:3", "--last-frost", "10 May", "--light-room", "2");
        Assert.Equal(said.ToString(), (await home.Json("dates", "tomato:3")).ToString());
        home.Clock.Advance(TimeSpan.FromDays(120));
        Assert.StartsWith("2028-", (await home.Json("dates", "tomato:3")).GetProperty("crops")[0].GetProperty("dates")
            .GetProperty("sowBy").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_price_is_asked_once()
    {
        await home.Do("plan --plants 9 --germination 0.8 --mix-litres 5 --mix-price 0.40");
        var cost = (await home.Json("plan", "--plants", "9", "--germination", "0.8", "--mix-litres", "10")).GetProperty("cost");
        Assert.Equal(4.00m, cost.GetProperty("mix").GetDecimal());
    }

    [Fact]
    public async Task A_yield_and_what_survives_are_asked_once()
    {
        await home.Do("lot add red --crop tomato --seeds 200 --year 2026", "lot add long --crop carrot --seeds 400 --year 2026",
            "plan --harvest 20 --yield 2.5 --lot red --survival 80%");
        var plan = await home.Json("plan", "--harvest", "10", "--lot", "red");
        Assert.Equal((4, 0.8), (plan.GetProperty("plants").GetInt32(), plan.GetProperty("survival").GetDouble()));
        Assert.Contains("what one plant gives", await home.Refusal("plan", "--harvest", "10", "--lot", "long"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_crops_of_a_season_are_asked_once()
    {
        Assert.Contains("The season's plan has no crop yet", await home.Refusal("dates", "--last-frost", "2027-05-10"),
            StringComparison.Ordinal);
        await home.Do("dates tomato:3 basil:2 --last-frost 2027-05-10 --keep", "dates tomato:9");
        var crops = (await home.Json("dates")).GetProperty("crops").EnumerateArray()
            .Select(crop => (crop.GetProperty("crop").GetString(), crop.GetProperty("plants").GetInt32()));
        Assert.Equal([("tomato", 3), ("basil", 2)], crops);
    }

    [Fact]
    public async Task This_week_names_what_to_sow_from_which_lot_and_where()
    {
        // On 1 March with a last frost on 30 April peppers are started indoors; carrots wait, and are sown outside.
        await home.Do("lot add red --crop pepper-sweet --seeds 20 --year 2026", "lot add long --crop carrot --seeds 400 --year 2026",
            "spot add ledge --kind shelf --light bright", "probe add glass --measures media --spot ledge",
            "probe move glass ledge --when 2027-02-20");
        var log = home.Write("log.csv", "at,temperature\n" + string.Concat(Enumerable.Range(0, 8 * 24).Select(hour =>
            $"{new DateTime(2027, 2, 21).AddHours(hour):yyyy-MM-dd'T'HH:mm:ss'Z'},25\n")));
        await home.Do($"import {log} --probe glass");
        Assert.Contains("whether it is their season is not known", (await home.Run("week")).Out, StringComparison.Ordinal);

        var week = await home.Json("week", "--last-frost", "2027-04-30");
        var pepper = Assert.Single(week.GetProperty("now").EnumerateArray());
        Assert.Equal(("red", "ledge", 20), (pepper.GetProperty("lot").GetString(), pepper.GetProperty("spot").GetString(),
            pepper.GetProperty("left").GetInt32()));
        var carrot = Assert.Single(week.GetProperty("later").EnumerateArray());
        Assert.True(carrot.GetProperty("outside").GetBoolean());
        var told = (await home.Run("week")).Out;
        Assert.StartsWith("This week: sweet pepper.", told, StringComparison.Ordinal);
        Assert.Contains("Counted from your last frost, Fri 30 Apr.", told, StringComparison.Ordinal);
    }
}
