using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Service.Web.Views;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Web.Views;

/// <summary>Days are invented.</summary>
public sealed class BatchViewTests : IDisposable
{
    private static readonly Instant Now = Instant.FromUtc(2027, 3, 10, 8, 0);
    private static readonly Instant Sown = Now - Duration.FromDays(20);

    private readonly TempFolder folder = new();
    private readonly ChamberStore store;

    public BatchViewTests()
    {
        store = ChamberStore.Open(folder.File("chamber.db"));
        store.Ledger.SetUp.Save(new Spot(new("cupboard"), SpotKind.Cupboard, LightLevel.Dark, 9));
    }

    public void Dispose()
    {
        store.Dispose();
        folder.Dispose();
    }

    [Fact]
    public void The_line_runs_from_sowing_to_planted_out_with_one_step_next()
    {
        var view = View(Batch(SowingMethod.CoveredMix) with { Looks = [new Look(Sown + Duration.FromDays(7), 5)],
            Stages = [new Stage(StageKind.MovedToLight, Sown + Duration.FromDays(8), 5)] });
        Assert.Equal(["Sown", "Up", "Light", "Pots", "Harden", "Out"], view.Steps.Select(step => step.Name));
        Assert.Equal([StepState.Done, StepState.Done, StepState.Done, StepState.Next, StepState.Later, StepState.Later],
            view.Steps.Select(step => step.State));
        Assert.Equal(["18 Feb", "25 Feb", "26 Feb"], view.Steps.Take(3).Select(step => step.When));
    }

    [Fact]
    public void A_step_that_nobody_wrote_down_lies_behind_the_one_that_somebody_did()
    {
        var view = View(Batch(SowingMethod.CoveredMix) with { Looks = [new Look(Sown + Duration.FromDays(7), 5)],
            Stages = [new Stage(StageKind.HardeningOff, Sown + Duration.FromDays(18), 5)] });
        Assert.Equal(["Out"], view.Steps.Where(step => step.State != StepState.Done).Select(step => step.Name));
    }

    [Fact]
    public void A_towel_counts_roots_and_is_planted_from()
    {
        var view = View(Batch(SowingMethod.DampTowel));
        Assert.Equal(["Sown", "Roots", "In mix"], view.Steps.Take(3).Select(step => step.Name));
        Assert.Equal("It is too early to say when it will be up: nothing was measured where it is.", view.Headline);
    }

    private static Batch Batch(SowingMethod method) =>
        new(new("T1"), new("tomato"), null, method, Sown, 12, [new Stay(new("cupboard"), new(Sown, null))], []);

    private BatchView View(Batch batch)
    {
        store.Ledger.Batches.Sow(batch);
        return new BatchViews(new(store.Home, store.Records, CropCatalog.Shipped, DateTimeZone.Utc), Now)
            .Of(store.Ledger.Batches.Find(batch.Id)!);
    }
}
