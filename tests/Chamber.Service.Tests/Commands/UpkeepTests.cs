namespace Chamber.Service.Tests.Commands;

/// <summary>Notes, watering and limits for one batch or spot, without counting. Homes and numbers are invented.</summary>
public sealed class UpkeepTests : IDisposable
{
    private readonly HomeRig home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task A_note_needs_no_count_and_stands_in_the_history()
    {
        await home.Do("spot add ledge", "sow okra --seeds 9 --spot ledge --name K1 --when 2027-02-20");
        Assert.StartsWith("K1: noted for 07:40.", (await home.Run("note", "k1", "moved to the back", "--when", "07:40")).Out,
            StringComparison.Ordinal);
        await home.Run("note", "ledge", "the lamp hums");
        Assert.Contains("moved to the back", (await home.Run("history", "batch", "K1")).Out, StringComparison.Ordinal);
        Assert.Contains("the lamp hums", (await home.Run("history", "spot", "ledge")).Out, StringComparison.Ordinal);
        Assert.Contains("Mould", (await home.Run("note", "K1", "white mould on one")).Out, StringComparison.OrdinalIgnoreCase);
        Assert.Equal("chamber: There is no batch or spot \"ledg\". Did you mean ledge? All of them: chamber batches   and: chamber spots",
            await home.Refusal("note", "ledg", "x"));
    }

    [Fact]
    public async Task All_that_stands_on_a_spot_is_watered_at_once()
    {
        await home.Do("spot add ledge --room 2", "spot add sill", "sow okra --seeds 9 --spot ledge --name K1 --when 2027-02-20",
            "sow okra --seeds 9 --spot ledge --name K2 --when 2027-02-21", "sow okra --seeds 9 --spot sill --name K3 --when 2027-02-21");
        Assert.StartsWith("K1, K2: watered 07:40.", (await home.Run("water", "ledge", "--when", "07:40")).Out, StringComparison.Ordinal);
        Assert.Contains("K2 watered", (await home.Run("history", "batch", "K2")).Out, StringComparison.Ordinal);
        Assert.DoesNotContain("watered", (await home.Run("history", "batch", "K3")).Out, StringComparison.Ordinal);
        await home.Do("undo");
        Assert.DoesNotContain("K2 watered", (await home.Run("batches")).Out, StringComparison.Ordinal);
        Assert.Equal("chamber: Nothing stood on ledge at Fri 19 Feb 12:00.", await home.Refusal("water", "ledge", "--when", "2027-02-19"));
    }

    [Fact]
    public async Task Limits_for_one_spot_or_batch_are_set_shown_and_given_up()
    {
        await home.Do("spot add ledge", "sow okra --seeds 9 --spot ledge --name K1");
        Assert.StartsWith("No limits of your own are set", (await home.Run("limits")).Out, StringComparison.Ordinal);
        Assert.StartsWith("ledge: too hot above 30 °C.", (await home.Run("limits", "ledge", "--too-hot", "30C")).Out,
            StringComparison.Ordinal);
        Assert.StartsWith("ledge: too hot above 30 °C, too cold below 20 °C.",
            (await home.Run("limits", "ledge", "--too-cold", "68F")).Out, StringComparison.Ordinal);
        await home.Do("limits K1 --too-hot 33C");
        Assert.Equal([33.0, 30.0], (await home.Json("limits")).EnumerateArray().Select(one => one.GetProperty("tooHot").GetDouble()));
        await home.Do("rename spot ledge shelf");
        Assert.StartsWith("shelf: too hot above 30 °C", (await home.Run("limits", "shelf")).Out, StringComparison.Ordinal);
        Assert.StartsWith("shelf: the limits of the crop are in force.", (await home.Run("limits", "shelf", "--usual")).Out,
            StringComparison.Ordinal);
        Assert.Contains("Too cold lies below too hot", await home.Refusal("limits", "K1", "--too-cold", "40C"), StringComparison.Ordinal);
        Assert.Contains("is outside 5 to 70 °C", await home.Refusal("limits", "K1", "--too-cold", "3C"), StringComparison.Ordinal);
    }
}
