using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Reviews;
using NodaTime;

namespace Chamber.Core.Tests.Reviews;

/// <summary>Arithmetic by hand; prices and watts are invented.</summary>
public class SeasonPricesTests
{
    private static readonly Instant Start = Instant.FromUtc(2027, 3, 1, 8, 0);

    [Fact]
    public void A_mat_under_two_batches_at_once_runs_once()
    {
        Batch[] batches = [On("mat", 0, 48), On("mat", 24, 72), On("mat", 96, 120), On("shelf", 0, 500)];
        Assert.Equal(96, SeasonPrices.OccupiedHours(batches, new("mat"), Start), 9);
    }

    [Fact]
    public void A_batch_that_still_stands_there_is_counted_until_now()
    {
        Assert.Equal(36, SeasonPrices.OccupiedHours([On("mat", 0, null)], new("mat"), Start + Duration.FromHours(36)), 9);
    }

    [Fact]
    public void A_mat_of_18_W_over_14_days_takes_6_kWh()
    {
        // Trade arithmetic: 18 W × 336 h / 1000 = 6.05 kWh.
        var prices = new SeasonPrices { KilowattHour = 0.5m, Watts = new Dictionary<Core.Spots.SpotId, double> { [new("mat")] = 18 } };
        Assert.Equal(3.024m, prices.For([On("mat", 0, 336)], 0, 0, Start).Heat);
    }

    [Fact]
    public void A_towel_takes_no_mix()
    {
        var prices = new SeasonPrices { MixLitre = 0.4m, ContainerLitres = 0.5 };
        var towel = On("mat", 0, 24) with { Method = SowingMethod.DampTowel };
        Assert.Equal(0.6m, prices.For([towel, On("mat", 0, 24) with { Containers = 3 }], 0, 0, Start).Mix);
    }

    private static Batch On(string spot, double from, double? to) => new(
        new($"B{from}"), new("tomato"), null, SowingMethod.CoveredMix, Start + Duration.FromHours(from), 10,
        [new(new(spot), new(Start + Duration.FromHours(from), to is { } end ? Start + Duration.FromHours(end) : null))], []);
}
