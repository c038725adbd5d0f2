using Chamber.Service.Tests.Commands;
using Chamber.Storage;

namespace Chamber.Service.Tests.Home;

public sealed class ToTheLightTests : IDisposable
{
    private readonly HomeRig home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task It_asks_where_to_and_moves_there()
    {
        await Up();
        Assert.Equal("chamber: Where to? T1 stands on cupboard, which is dark. Name a bright spot: sill, window.",
            await home.Refusal("stage", "T1", "moved-to-light"));
        var moved = await home.Run("stage", "T1", "moved-to-light", "--to", "sill");
        Assert.StartsWith("T1: moved to light 08:00, on sill.", moved.Out, StringComparison.Ordinal);
        var batch = (await home.Json("batches"))[0];
        Assert.Equal("sill", batch.GetProperty("spot").GetString());
        Assert.DoesNotContain((await home.Json("todo")).EnumerateArray(), one => one.GetProperty("kind").GetString() == "toTheLight");
    }

    [Fact]
    public async Task Said_twice_it_is_written_down_once()
    {
        await Up();
        await home.Do("stage T1 moved-to-light --to sill");
        home.Clock.Advance(TimeSpan.FromSeconds(1));
        Assert.Equal("chamber: batch T1: that it was moved to the light is recorded already.",
            await home.Refusal("stage", "T1", "moved-to-light", "--to", "window"));
        using var store = ChamberStore.Open(Path.Combine(home.Path, "chamber.db"));
        var batch = store.Ledger.Batches.Find(new("T1"))!;
        Assert.Single(batch.Stages);
        Assert.Equal(["cupboard", "sill"], batch.Stays.Select(stay => stay.Spot.Text));
    }

    [Fact]
    public async Task A_spot_without_light_is_refused_and_nothing_is_written()
    {
        await Up();
        Assert.Equal("chamber: shelf is dim: seedlings want a bright spot. Name a bright spot: sill, window.",
            await home.Refusal("stage", "T1", "moved-to-light", "--to", "shelf"));
        Assert.Contains("There is no spot \"roof\"", await home.Refusal("stage", "T1", "moved-to-light", "--to", "roof"),
            StringComparison.Ordinal);
        Assert.Contains("Only moved-to-light names a spot", await home.Refusal("stage", "T1", "uncovered", "--to", "sill"),
            StringComparison.Ordinal);
        using var store = ChamberStore.Open(Path.Combine(home.Path, "chamber.db"));
        Assert.Empty(store.Ledger.Batches.Find(new("T1"))!.Stages);
    }

    [Fact]
    public async Task Where_nothing_is_bright_it_says_how_to_have_such_a_spot()
    {
        await home.Do("spot add cupboard --kind cupboard --light dark", "sow tomato --seeds 12 --spot cupboard --name T1");
        Assert.Equal(
            "chamber: Where to? T1 stands on cupboard, which is dark. No spot is bright yet; add one: chamber spot add sill --kind "
                + "sill --light bright",
            await home.Refusal("stage", "T1", "moved-to-light"));
    }

    [Fact]
    public async Task On_a_bright_spot_or_of_some_plants_only_it_asks_nothing()
    {
        await Up();
        await home.Do("stage T1 moved-to-light --plants 2");
        Assert.Equal("cupboard", (await home.Json("batches"))[0].GetProperty("spot").GetString());
        await home.Do("sow radish --seeds 9 --spot sill --name R1", "stage R1 moved-to-light");
        Assert.Equal("sill", (await home.Json("batches"))[1].GetProperty("spot").GetString());
    }

    [Fact]
    public async Task Taken_back_it_stands_where_it_stood()
    {
        await Up();
        await home.Do("stage T1 moved-to-light --to sill");
        using var store = ChamberStore.Open(Path.Combine(home.Path, "chamber.db"));
        store.Ledger.Batches.RemoveStage(new("T1"), store.Ledger.Batches.Find(new("T1"))!.Stages[0].At);
        var batch = store.Ledger.Batches.Find(new("T1"))!;
        Assert.Empty(batch.Stages);
        var stay = Assert.Single(batch.Stays);
        Assert.Equal(("cupboard", false), (stay.Spot.Text, stay.When.HasEnd));
    }

    private async Task Up()
    {
        await home.Do(
            "spot add cupboard --kind boiler-cupboard --light dark --room 4", "spot add sill --kind sill --light bright",
                "spot add window --kind sill --light bright", "spot add shelf --kind shelf --light dim",
            "sow tomato --seeds 12 --spot cupboard --name T1");
        home.Clock.Advance(TimeSpan.FromDays(6));
        await home.Do("look T1 5");
    }
}
