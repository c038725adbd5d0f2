namespace Chamber.Service.Tests.Commands;

/// <summary>What is odd and may all the same be meant is told and not refused. Homes and numbers are invented.</summary>
public sealed class WarnedTests : IDisposable
{
    private readonly HomeRig home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task A_spot_fuller_than_its_room_is_told()
    {
        await home.Do("spot add ledge --room 1", "sow okra --seeds 9 --spot ledge --name K1");
        const string told = "ledge has room for 1 and holds 2 now";
        var sown = await home.Run("sow", "radish", "--seeds", "9", "--spot", "ledge", "--name", "R1");
        Assert.Contains(told, sown.Out, StringComparison.Ordinal);
        await home.Do("spot add sill --kind sill");
        home.Clock.Advance(TimeSpan.FromHours(1));
        Assert.DoesNotContain("has room for", (await home.Run("move", "R1", "sill")).Out, StringComparison.Ordinal);
        home.Clock.Advance(TimeSpan.FromHours(1));
        Assert.Contains(told, (await home.Run("move", "R1", "ledge")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_spot_that_nobody_measured_has_no_score()
    {
        await home.Do("spot add ledge");
        Assert.Contains("ledge      -       -         -        -  Not enough readings",
            (await home.Run("spots", "--crop", "okra")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_column_that_is_not_used_is_named()
    {
        var file = home.Write("log.csv", "at,temperature,lux\n2027-02-26T06:00:00Z,21,300\n");
        Assert.Contains("Nothing is taken from \"lux\". To use a column: --column WHAT=NAME",
            (await home.Run("import", file, "--probe", "p1")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_day_without_an_hour_says_which_was_taken()
    {
        await home.Do("spot add ledge", "sow okra --seeds 9 --spot ledge --name K1 --when 2027-02-20");
        Assert.Contains("--when 28.2.2027 names no hour; taken as Sun 28 Feb 12:00.",
            (await home.Run("look", "K1", "0", "--when", "28.2.2027")).Out, StringComparison.Ordinal);
        Assert.DoesNotContain("names no hour", (await home.Run("look", "K1", "1", "--when", "28.2.2027 14:00")).Out,
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_sowing_of_another_century_is_told_and_written_down()
    {
        await home.Do("spot add ledge");
        Assert.Contains("Thu 1 Mar 1990 is more than ten years ago: look at the year.",
            (await home.Run("sow", "okra", "--seeds", "9", "--spot", "ledge", "--when", "1990-03-01")).Out, StringComparison.Ordinal);
        Assert.Single((await home.Json("batches")).EnumerateArray());
        Assert.Contains("is outside 1970 to 2200",
            await home.Refusal("sow", "okra", "--seeds", "9", "--spot", "ledge", "--when", "1890-03-01"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task More_seed_than_a_lot_holds_is_told_and_written_down()
    {
        await home.Do("spot add ledge --room 9", "lot add late --crop okra --seeds 30 --year 2026");
        home.Clock.Advance(TimeSpan.FromHours(1));
        const string told = "By its count lot late had only 30 seeds left, and 31 are taken from it: correct the number, or count the lot "
            + "again: chamber lot count late N";
        var sown = await home.Json("sow", "okra", "--seeds", "31", "--spot", "ledge", "--lot", "late");
        Assert.Equal([told], sown.GetProperty("warnings").EnumerateArray().Select(one => one.GetString()));
        Assert.Contains("lot late had run out, and 4 are taken from it",
            (await home.Run("test", "record", "late", "3/4")).Out, StringComparison.Ordinal);
        Assert.Contains("lot late had run out", (await home.Run("test", "start", "late", "--spot", "ledge", "--seeds", "10")).Out,
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_sowing_out_of_season_is_told_when_the_last_frost_is_known()
    {
        // The clock stands on 1 March; 12 weeks before a frost at the end of September is still to come.
        await home.Do("spot add ledge --room 9");
        Assert.DoesNotContain("out of season", (await home.Run("sow", "tomato", "--seeds", "3", "--spot", "ledge")).Out,
            StringComparison.Ordinal);
        await home.Do("dates tomato:3 --last-frost 2027-09-30");
        Assert.Contains("Tomato is out of season: counted from your last frost (30 Sep), the next time to sow it is ",
            (await home.Run("sow", "tomato", "--seeds", "3", "--spot", "ledge")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_notebook_is_warned_about_line_by_line()
    {
        await home.Do("spot add ledge", "lot add late --crop okra --seeds 30 --year 2026");
        home.Clock.Advance(TimeSpan.FromDays(2));
        var file = home.Write("book.csv",
            "batch,sown,crop,seeds,spot,lot\nK1,2027-03-02,okra,31,ledge,late\nK2,1990-03-02,okra,3,,\n");
        var told = await home.Json("import-notebook", file);
        Assert.Equal([2L, 3L], told.GetProperty("warned").EnumerateArray().Select(one => one.GetProperty("line").GetInt64()));
        Assert.Contains("lot late had only 30 seeds left, and 31 are taken", told.ToString(), StringComparison.Ordinal);
        Assert.Contains("more than ten years ago", told.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Watering_needs_no_count()
    {
        await home.Do("spot add ledge", "sow okra --seeds 9 --spot ledge --name K1 --when 2027-02-20");
        Assert.StartsWith("K1: watered 07:40.", (await home.Run("water", "K1", "--when", "07:40")).Out, StringComparison.Ordinal);
        Assert.Contains("K1 watered", (await home.Run("history", "batch", "K1")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_crop_has_its_days_by_temperature_and_its_sources_on_request()
    {
        var told = (await home.Run("crops", "okra")).Out;
        Assert.Contains("25 °C", told, StringComparison.Ordinal);
        Assert.Contains("chamber crops okra --sources", told, StringComparison.Ordinal);
        Assert.DoesNotContain("Harrington", told, StringComparison.Ordinal);
        Assert.Contains("Harrington", (await home.Run("crops", "okra", "--sources")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_rest_of_a_lot_says_what_it_will_give()
    {
        await home.Do("lot add late --crop okra --seeds 30 --year 2026");
        var told = (await home.Run("plan", "--seeds", "46", "--lot", "late")).Out;
        Assert.StartsWith("46 seeds of late will give ", told, StringComparison.Ordinal);
        Assert.Contains("Only 30 seeds of late are left.", told, StringComparison.Ordinal);
        Assert.Equal("chamber: Say how many seeds you have, or what you want of them, and not both.",
            await home.Refusal("plan", "--seeds", "46", "--plants", "3", "--germination", "0.8"));
    }

    [Fact]
    public async Task A_script_that_expects_nothing_says_so()
    {
        var file = home.Write("empty.watch", "# nothing yet\n");
        Assert.Contains("it expects nothing, so nothing was tested", (await home.Run("watch-test", file)).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Dates_that_are_over_are_told()
    {
        var told = (await home.Run("dates", "tomato:3", "--last-frost", "2026-05-10")).Out;
        Assert.Contains("The days of tomato are over: give the last frost of the coming spring.", told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_batch_is_compared_with_another_only()
    {
        await home.Do("spot add ledge", "sow okra --seeds 9 --spot ledge --name K1");
        Assert.Equal("chamber: K1 cannot be compared with itself: name two batches.",
            await home.Refusal("compare", "--batches", "K1", "K1"));
    }
}
