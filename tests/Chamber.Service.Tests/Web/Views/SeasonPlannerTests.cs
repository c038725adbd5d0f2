using Chamber.Core.Crops;
using Chamber.Service.Home;
using Chamber.Service.Tests.Commands;
using Chamber.Service.Web.Views;
using Chamber.Storage;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Tests.Web.Views;

/// <summary>The plan of a season: numbers, days and money together.</summary>
public sealed class SeasonPlannerTests : IDisposable
{
    private static readonly Instant Now = Instant.FromUtc(2027, 3, 1, 8, 0);

    private readonly HomeRig home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public void All_that_a_season_costs_is_added_up_and_compared_with_bought_plants()
    {
        // 12 plants with 0.5 l each at 0.40 are 2.40, and pots 6.00; bought 12 × 2.50 = 30.00.
        var plan = Plan(new() { Rows = [new() { Crop = "tomato", Plants = 6 }, new() { Crop = "basil", Plants = 6 }], MixPrice = 0.40m,
            PotLitres = 0.5, PotsPrice = 6, BoughtPrice = 2.50m });

        Assert.Equal("All of it costs 8.40: mix 2.40, pots 6.00. Bought, these 12 plants would cost 30.00: it saves 21.60.", plan.Money);
        Assert.Equal(["0.70", "0.70"], plan.Lines.Select(line => line.Cost));
    }

    [Fact]
    public async Task A_mat_is_paid_for_once_by_crops_that_stand_on_it_together()
    {
        await home.Do("spot add mat --kind heat-mat", "probe add mat-mix --measures media",
            $"probe move mat-mix mat --when {InstantPattern.General.Format(Now - Duration.FromDays(4))}");
        home.Write("mat.csv",
            string.Join('\n',
            ["at,temperature", .. Enumerable.Range(0, 96)
            .Select(hour => $"{InstantPattern.General.Format(Now - Duration.FromHours(96 - hour))},25.0")]));
        await home.Do($"import {home.File("mat.csv")} --probe mat-mix");

        var alone = Plan(new() { Spot = "mat", Watts = 20, KwhPrice = 1, Rows = [new() { Crop = "tomato", Plants = 1 }] });
        var together =
            Plan(new() { Spot = "mat", Watts = 20, KwhPrice = 1,
            Rows = [new() { Crop = "tomato", Plants = 1 }, new() { Crop = "tomato", Plants = 1 }] });

        Assert.Contains("electricity", alone.Money, StringComparison.Ordinal);
        Assert.Equal(alone.Money, together.Money);
    }

    [Fact]
    public void Plants_are_counted_from_a_harvest()
    {
        var plan = Plan(new() { Rows = [new() { Crop = "tomato", Harvest = 20, Yield = 2.5 }] });
        Assert.Equal(8, plan.Lines[0].Plants);
    }

    [Fact]
    public void Half_a_harvest_is_refused_with_what_is_missing() =>
        Assert.StartsWith("A harvest needs two numbers above 0",
            Assert.Throws<BadInputException>(() => Plan(new() { Rows = [new() { Crop = "tomato", Harvest = 20 }] })).Message,
            StringComparison.Ordinal);

    [Fact]
    public void Losses_after_coming_up_ask_for_more_seed()
    {
        PlanSheet Sheet(double? survival) => new() { Survival = survival, Rows = [new() { Crop = "tomato", Plants = 10 }] };

        // scipy.stats.binom.sf(9, n, 0.67) first reaches 0.9 at n = 19, with 0.335 at n = 40.
        Assert.Equal("19 seeds", Plan(Sheet(null)).Lines[0].Sow);
        Assert.Equal("40 seeds", Plan(Sheet(50)).Lines[0].Sow);
    }

    private PlanResult Plan(PlanSheet sheet)
    {
        sheet.LastFrost = new DateOnly(2027, 5, 10);
        using var store = ChamberStore.Open(home.File("chamber.db"));
        return new SeasonPlanner(new HomeReader(store.Home, store.Records, CropCatalog.Shipped, DateTimeZone.Utc), Now).Of(sheet);
    }
}
