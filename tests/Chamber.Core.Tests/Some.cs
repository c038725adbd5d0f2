using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests;

/// <summary>Lots and batches whose details do not matter to a test.</summary>
internal static class Some
{
    public static readonly Instant Sowing = Instant.FromUtc(2026, 3, 1, 8, 0);

    public static Crop Crop(string name) => CropCatalog.Shipped.Require(name);

    public static Instant Day(double days) => Sowing + Duration.FromDays(days);

    public static Lot Lot(string crop = "tomato", int? year = 2025, int counted = 50) =>
        new(new("lot-1"), Crop(crop).Id, null, SeedOrigin.Bought, year, LotYearKind.Harvested, counted, Instant.FromUtc(2026, 1, 1, 0, 0),
            StatedShare: null);

    public static Batch Batch(int seeds = 12, SowingMethod method = SowingMethod.CoveredMix, params (double Day, int Up)[] looks) => new(
        new("T3"),
        new("tomato"),
        new("lot-1"),
        method,
        Sowing,
        seeds,
        [new Stay(new SpotId("cupboard"), new Interval(Sowing, null))],
        [.. looks.Select(look => new Look(Day(look.Day), look.Up))]);
}
