namespace Chamber.Service.Tests.Commands.Sowing;

/// <summary>Seed that needs a moist chill, from the refrigerator into the warmth. Spots and readings are invented.</summary>
public sealed class ChillVerbTests
{
    [Fact]
    public async Task Lavender_is_chilled_in_the_refrigerator_and_then_brought_out()
    {
        using var home = new HomeRig();
        await home.Do("spot add fridge --kind refrigerator --light dark --room 2");
        var sown = await home.Run("sow", "lavender", "--seeds", "20", "--spot", "fridge", "--name", "L1");
        Assert.Contains("Moist chill: 0 of 42 days so far, 42 to go.", sown.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("too cold", sown.Out, StringComparison.OrdinalIgnoreCase);

        home.Clock.Advance(TimeSpan.FromDays(20));
        var todo = await home.Run("todo", "--days", "30");
        Assert.True(todo.Code == 0, todo.Error);
        Assert.Contains("42 days of moist chill are over", todo.Out, StringComparison.Ordinal);

        home.Clock.Advance(TimeSpan.FromDays(23));
        await home.Do("spot add sill --kind sill --light bright", "read sill 20C", "move L1 sill");
        home.Clock.Advance(TimeSpan.FromDays(1));
        await home.Do("read sill 20C");
        var moved = await home.Json("batches");
        var forecast = moved.EnumerateArray().Single().GetProperty("forecast");
        var low = DateTimeOffset.Parse(forecast.GetProperty("first").GetProperty("low").GetString()!,
            System.Globalization.CultureInfo.InvariantCulture);
        Assert.True(low > home.Clock.GetUtcNow().AddDays(5), $"first up from {low}: the cold days must not count as warmth");
    }

    [Fact]
    public async Task Lavender_that_was_put_into_the_warmth_is_told_of_its_chill()
    {
        using var home = new HomeRig();
        await home.Do("spot add sill --kind sill --light bright", "read sill 20C --when 2027-02-20",
            "read sill 20C");
        var sown = await home.Run("sow", "lavender", "--seeds", "20", "--spot", "sill", "--name", "L1", "--when", "2027-02-20");
        Assert.Contains("has had 0. As it is about 30 % of sound seed can come up.", sown.Out, StringComparison.Ordinal);
        var todo = await home.Run("todo");
        Assert.Contains("put it in the refrigerator", todo.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Forecast_and_dates_begin_in_the_refrigerator()
    {
        using var home = new HomeRig();
        var forecast = await home.Json("forecast", "--crop", "lavender", "--at", "20C");
        Assert.True(forecast.GetProperty("first").GetProperty("low").GetDouble() > 42);
        Assert.Equal(42, forecast.GetProperty("chill").GetProperty("daysWanted").GetInt32());
        var dates = await home.Run("dates", "lavender:6", "--last-frost", "2027-05-10");
        Assert.Contains("Lavender begins in the refrigerator", dates.Out, StringComparison.Ordinal);
        var crop = await home.Run("crops", "lavender");
        Assert.Contains("It needs 21 to 42 days of moist chill at 0 to 10", crop.Out, StringComparison.Ordinal);
    }
}
