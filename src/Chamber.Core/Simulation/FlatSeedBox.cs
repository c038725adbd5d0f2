using Chamber.Core.Batches;
using Chamber.Core.Seeds;
using NodaTime;

namespace Chamber.Core.Simulation;

/// <summary>The invented seed box of the shared flat: bought and saved lots, young and old ones, and what their tests gave.</summary>
public static class FlatSeedBox
{
    private static readonly LotId OwnTomato = new("tomato-own");
    private static readonly LotId OldOnion = new("onion-old");
    private static readonly LotId GiftLettuce = new("lettuce-gift");

    /// <summary>The lots, each counted before its first batch was sown.</summary>
    /// <param name="counted">When they were counted.</param>
    /// <param name="year">The year of the story; the lots' years are counted from it.</param>
    public static IReadOnlyList<Lot> Lots(Instant counted, int year) =>
    [
        new(new("tomato-shop"), new("tomato"), "small red", SeedOrigin.Bought, year - 2, LotYearKind.PackedFor, 40, counted, Price: 2.80m,
            StatedShare: 0.85),
        new(OwnTomato, new("tomato"), "small red", SeedOrigin.Saved, year - 1, LotYearKind.Harvested, 120, counted, Price: 0m,
            Storage: SeedStorage.CoolRoom, Parent: new("tomato-shop")),
        new(new("basil-pot"), new("basil"), null, SeedOrigin.Bought, year, LotYearKind.PackedFor, 300, counted, Price: 1.50m),
        new(new("pepper-24"), new("pepper-sweet"), "long yellow", SeedOrigin.Bought, year - 2, LotYearKind.SowBy, 18, counted, Price: 2.40m,
            StatedShare: 0.75),
        new(new("broccoli-shop"), new("broccoli"), "side shoots", SeedOrigin.Bought, year, LotYearKind.PackedFor, 70,
            counted, Price: 1.65m),
        new(GiftLettuce, new("lettuce"), "mixed leaves", SeedOrigin.Saved, year - 1, LotYearKind.Harvested, 200, counted, Price: 0m,
            Storage: SeedStorage.RefrigeratorJar),
        new(OldOnion, new("onion"), null, SeedOrigin.Bought, year - 3, LotYearKind.PackedFor, 150, counted, Price: 1.90m),
        new(new("radish-24"), new("radish"), null, SeedOrigin.Bought, year - 1, LotYearKind.PackedFor, 200, counted, Price: 1.20m),
        new(new("celery-gift"), new("celery"), null, SeedOrigin.Bought, null, LotYearKind.PackedFor, 400, counted, Price: 0m,
            Note: "Swapped; nobody knows how old."),
    ];

    /// <summary>What the tests gave: a fair one of the own tomatoes, one of old onions, and one of lettuce on a place too warm for
    /// it.</summary>
    /// <param name="opens">When the viewer comes in.</param>
    public static IReadOnlyList<LotTest> Tests(Instant opens) =>
    [
        new(OwnTomato, opens - Duration.FromDays(13.5), opens - Duration.FromDays(4), 20, 18),
        new(OldOnion, opens - Duration.FromDays(13.5), opens - Duration.FromDays(3), 20, 11),
        new(GiftLettuce, opens - Duration.FromDays(9), opens - Duration.FromDays(2), 10, 1, Fair: false,
            Note: "Stood over 30 °C for hours: not a fair test."),
    ];
}
