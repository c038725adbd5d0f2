using System.Globalization;

namespace Chamber.Service.Tests.Commands.Spots;

public class PlaceVerbTests
{
    [Fact]
    public async Task What_no_spot_can_take_yet_says_what_is_wrong_with_each()
    {
        using var home = new HomeRig();
        await home.Do("spot add shelf --kind shelf --light dim");
        var basil = (await home.Json("place", "basil"))[0];
        Assert.Equal((null, "shelf has not been measured through a whole day yet."),
            (basil.GetProperty("spot").GetString(), basil.GetProperty("why").GetString()));
        var row = (await home.Run("place", "basil")).Out;
        Assert.Contains("nowhere", row, StringComparison.Ordinal);
        Assert.Contains("not been measured", row, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_crops_share_two_spots_at_least_loss_and_the_rest_hears_all_is_full()
    {
        using var home = new HomeRig();
        await Measured(home, "mat", "26");
        await Measured(home, "shelf", "20");
        var placed = await home.Json("place", "pepper-sweet", "lettuce", "spinach");
        Assert.Equal("mat", placed[0].GetProperty("spot").GetString());
        Assert.Single(placed.EnumerateArray(), one => one.GetProperty("spot").GetString() == "shelf");
        var left = placed.EnumerateArray().Single(one => one.GetProperty("spot").GetString() is null);
        Assert.EndsWith("spot is full.", left.GetProperty("why").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_up_and_takes_the_room_is_named_when_something_finds_none()
    {
        using var home = new HomeRig();
        await Measured(home, "shelf", "22");
        await home.Do("sow tomato --seeds 12 --spot shelf --when 2027-02-27", "look T1 3");
        Assert.Contains("Up, and still taking up room: T1 on shelf.", (await home.Run("place", "basil")).Out, StringComparison.Ordinal);
        await home.Do("end T1");
        Assert.DoesNotContain("still taking up room", (await home.Run("place", "basil")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Direct_sown_crops_get_no_place_indoors_unless_somebody_insists()
    {
        using var home = new HomeRig();
        await Measured(home, "cupboard", "24");
        var carrot = (await home.Json("place", "carrot", "--new-only"))[0];
        Assert.Equal((null, "Carrot is sown where it will grow, so no spot indoors is offered."),
            (carrot.GetProperty("spot").GetString(), carrot.GetProperty("why").GetString()));
        Assert.Contains("--indoors", (await home.Run("place", "carrot", "--new-only")).Out, StringComparison.Ordinal);
        Assert.Equal("cupboard", (await home.Json("place", "carrot", "--new-only", "--indoors"))[0].GetProperty("spot").GetString());
        Assert.DoesNotContain("carrot", (await home.Json("spots", "--spot", "cupboard")).ToString(), StringComparison.Ordinal);
        Assert.Contains("carrot", (await home.Json("spots", "--spot", "cupboard", "--all")).ToString(), StringComparison.Ordinal);
        Assert.Contains("sown where it will grow", (await home.Run("spots", "--crop", "carrot")).Out, StringComparison.Ordinal);
    }

    // Two days of a steady temperature, room for one box.
    private static async Task Measured(HomeRig home, string spot, string celsius)
    {
        await home.Do($"spot add {spot} --kind shelf --light dim --room 1", $"probe add {spot}-mix --measures media",
            $"probe move {spot}-mix {spot} --when 2027-02-26");
        var lines = Enumerable.Range(0, 60)
            .Select(hour =>
            $"{home.Clock.GetUtcNow().AddHours(hour - 60).ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture)},{celsius}");
        await home.Do($"import {home.Write($"{spot}.csv", "at,temperature\n" + string.Join('\n', lines) + "\n")} --probe {spot}-mix");
    }
}
