using Chamber.Core.Seeds;
using Chamber.Storage;

namespace Chamber.Service.Tests.Commands;

/// <summary>Days of a test by 7 CFR 201.58; how far a test moves a belief is the program's own, to notice change.</summary>
public class SeedVerbTests
{
    [Fact]
    public async Task Seeds_left_fall_as_batches_are_sown_and_never_below_none()
    {
        using var home = new HomeRig();
        await home.Do(
            "lot add tomato-24 --crop tomato --seeds 20 --year 2026",
            "spot add shelf --kind shelf --light dim --room 4",
            "sow tomato --seeds 12 --spot shelf --lot tomato-24");
        Assert.Equal(8, (await home.Json("lots"))[0].GetProperty("left").GetInt32());
        Assert.Contains("lot tomato-24 had only 8 seeds left, and 9 are taken from it",
            (await home.Run("sow", "tomato", "--seeds", "9", "--spot", "shelf", "--lot", "tomato-24")).Out, StringComparison.Ordinal);
        Assert.Equal(0, (await home.Json("lots"))[0].GetProperty("left").GetInt32());
        home.Clock.Advance(TimeSpan.FromMinutes(1));
        await home.Do("lot count tomato-24 30", "sow tomato --seeds 9 --spot shelf --lot tomato-24");
        Assert.Equal(21, (await home.Json("lots"))[0].GetProperty("left").GetInt32());
    }

    [Fact]
    public async Task A_lot_keeps_what_is_not_said_again()
    {
        using var home = new HomeRig();
        await home.Do("lot add leek-25 --crop leek --seeds 90 --year 2025 --variety Winter --price 1.10 --stated 82% --storage cool-room "
            + "--treated --note dyed");
        home.Clock.Advance(TimeSpan.FromDays(1));
        await home.Do("lot add leek-25 --seeds 70");
        Assert.Equal(("Winter", 2025, 1.10m, 0.82, SeedStorage.CoolRoom, true, "dyed", 70, 90), Kept());

        await home.Do("lot add leek-25 --price 1.30 --treated false --forget note");
        Assert.Equal(("Winter", 2025, 1.30m, 0.82, SeedStorage.CoolRoom, false, null, 70, 90), Kept());

        await home.Do("lot add leek-25 --saved");
        Assert.Equal("saved", (await home.Json("lots"))[0].GetProperty("origin").GetString());
        await home.Do("lot add leek-25 --seeds 60");
        Assert.Equal("saved", (await home.Json("lots"))[0].GetProperty("origin").GetString());

        (string?, int?, decimal?, double?, SeedStorage, bool, string?, int, int?) Kept()
        {
            using var store = ChamberStore.Open(home.File("chamber.db"));
            var lot = store.Ledger.Seeds.Lot(new("leek-25"))!;
            return (lot.Variety, lot.Year, lot.Price, lot.StatedShare, lot.Storage, lot.Treated, lot.Note, lot.Counted, lot.Bought);
        }
    }

    [Theory]
    [InlineData("lot add leek-25 --seeds 70", "There is no lot \"leek-25\" yet: say which crop it is.")]
    [InlineData("lot add leek-25 --crop leek", "There is no lot \"leek-25\" yet: say how many seeds there are.")]
    [InlineData("lot add leek-25 --crop leek --seeds 7 --forget colour",
        "\"colour\" is none of variety, year, parent, price, stated, note.")]
    public async Task A_new_lot_needs_its_crop_and_its_count(string line, string refusal)
    {
        using var home = new HomeRig();
        Assert.Equal($"chamber: {refusal}", await home.Refusal(line.Split(' ')));
    }

    [Fact]
    public async Task All_that_was_written_down_of_a_lot_is_told()
    {
        using var home = new HomeRig();
        await home.Do("lot add okra-1 --crop okra --seeds 60 --year 2026 --variety green --price 2.15 --stated 85% --note swapped");
        var told = (await home.Run("lot", "show", "okra-1")).Out;
        foreach (var part in (string[])["bought, packed for 2026", "room", "green", "2.15", "85 % come up", "swapped",
            "From the 85 % on the packet, its age"])
        {
            Assert.Contains(part, told, StringComparison.Ordinal);
        }

        var answer = await home.Json("lot", "show", "okra-1");
        Assert.Equal((2.15m, 0.85, "swapped"), (answer.GetProperty("price").GetDecimal(), answer.GetProperty("stated").GetDouble(),
            answer.GetProperty("note").GetString()));
    }

    [Fact]
    public async Task A_lot_past_its_life_is_said_to_be_past_it()
    {
        using var home = new HomeRig();
        await home.Do("lot add onion-19 --crop onion --seeds 60 --year 2019");
        Assert.Contains("past it", (await home.Run("lots")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_lot_is_measured_by_the_rule_that_its_crop_has()
    {
        using var home = new HomeRig();
        await home.Do("lot add onion-26 --crop onion --seeds 60 --year 2026", "lot add basil-26 --crop basil --seeds 60 --year 2026");
        Assert.Contains("Seed on sale must reach 70 % (US rules, 7 CFR 201.31; 2015 edition)", await Said("onion-26"),
            StringComparison.Ordinal);
        Assert.Contains("Seed on sale must reach 70 % (one US state's rule, New Hampshire Agr 2203.01)", await Said("basil-26"),
            StringComparison.Ordinal);

        async Task<string> Said(string lot) =>
            string.Join(' ', (await home.Run("lot", "show", lot)).Out.Split((char[])['\n', ' '], StringSplitOptions.RemoveEmptyEntries));
    }

    [Fact]
    public async Task A_home_test_runs_as_a_small_batch_and_teaches_its_lot()
    {
        using var home = new HomeRig();
        await home.Do("lot add onion-23 --crop onion --seeds 60 --year 2024", "spot add shelf --kind shelf --light dim --room 4");
        var plan = await home.Json("test", "plan", "onion-23");
        Assert.Equal((20, 10), (plan.GetProperty("seeds").GetInt32(), plan.GetProperty("finalCountDay").GetInt32()));
        var before = (await home.Json("lots"))[0].GetProperty("germination").GetProperty("mid").GetDouble();
        var batch = (await home.Json("test", "start", "onion-23", "--spot", "shelf")).GetProperty("batch").GetString()!;
        home.Clock.Advance(TimeSpan.FromDays(10));
        Assert.Contains("only 20 seeds", await home.Refusal("test", "call", batch, "--good", "21"), StringComparison.Ordinal);
        await home.Do($"test call {batch} --good 17");
        var lot = (await home.Json("lots"))[0];
        Assert.Equal(40, lot.GetProperty("left").GetInt32());
        Assert.True(lot.GetProperty("germination").GetProperty("mid").GetDouble() > before + 0.1);
        Assert.Equal(17, lot.GetProperty("tests")[0].GetProperty("good").GetInt32());
    }

    [Fact]
    public async Task What_is_up_shows_among_the_things_to_do_until_it_is_in_the_light()
    {
        using var home = new HomeRig();
        await home.Do("spot add cupboard --kind boiler-cupboard --light dark --room 4", "spot add sill --kind sill --light bright",
            "sow tomato --seeds 12 --spot cupboard --name T1");
        home.Clock.Advance(TimeSpan.FromDays(6));
        await home.Do("look T1 5");
        Assert.Equal("toTheLight", (await home.Json("todo"))[0].GetProperty("kind").GetString());
        await home.Do("stage T1 moved-to-light --plants 5 --to sill", "plant-out T1 2027-05-17");
        var todo = await home.Json("todo", "--days", "90");
        Assert.Equal(["prickOut", "hardenOff", "plantOut"], todo.EnumerateArray().Select(one => one.GetProperty("kind").GetString()));
    }

    [Fact]
    public async Task What_cannot_be_true_of_a_batch_is_refused_and_nothing_is_written()
    {
        using var home = new HomeRig();
        await home.Do("spot add shelf --kind shelf --light dim --room 4", "sow tomato --seeds 12 --spot shelf --name T1");
        Assert.Contains("before", await home.Refusal("look", "T1", "0", "--when", "yesterday"), StringComparison.Ordinal);
        home.Clock.Advance(TimeSpan.FromDays(6));
        Assert.Contains("more up (13) than sown (12)", await home.Refusal("look", "T1", "13"), StringComparison.Ordinal);
        await home.Do("look T1 5");
        Assert.Contains("6 plants lost, but only 5", await home.Refusal("loss", "T1", "6", "--to", "cold"), StringComparison.Ordinal);
        Assert.Contains("only 5 are up", await home.Refusal("stage", "T1", "pricked-out", "--plants", "6"), StringComparison.Ordinal);
        Assert.Contains("not sown on a towel", await home.Refusal("stage", "T1", "towel-planted"), StringComparison.Ordinal);
        Assert.Contains("is on \"shelf\" already", (await home.Run("move", "T1", "shelf")).Error, StringComparison.Ordinal);
        Assert.Equal(5, (await home.Json("batches"))[0].GetProperty("up").GetInt32());
    }
}
