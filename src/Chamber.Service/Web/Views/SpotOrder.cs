using Chamber.Core.Spots;

namespace Chamber.Service.Web.Views;

/// <summary>In which order spots are listed.</summary>
internal enum SpotOrder
{
    /// <summary>As they were read: the best for the crop first, without a crop by name.</summary>
    Best,
    Name,
    Warmest,
    Room,
}

/// <summary>Which of many spots are listed, and in which order.</summary>
internal sealed class SpotFilter
{
    /// <summary>Letters that the name has somewhere; empty for all.</summary>
    public string Letters { get; set; } = string.Empty;

    /// <summary>Null for any light.</summary>
    public LightLevel? Light { get; set; }

    /// <summary>Whether only those count that have room left.</summary>
    public bool WithRoom { get; set; }

    public SpotOrder Order { get; set; }

    public IReadOnlyList<SpotView> Of(IEnumerable<SpotView> spots)
    {
        var some = spots.Where(spot => spot.Name.Contains(Letters.Trim(), StringComparison.OrdinalIgnoreCase)
            && (Light is null || spot.Now.Light == Light) && (!WithRoom || RoomLeft(spot) > 0));
        return [.. Order switch
        {
            SpotOrder.Name => some.OrderBy(spot => spot.Name, StringComparer.OrdinalIgnoreCase),
            SpotOrder.Warmest => some.OrderByDescending(spot => spot.Now.Temperature?.Celsius ?? double.NegativeInfinity),
            SpotOrder.Room => some.OrderByDescending(RoomLeft),
            _ => some,
        }];
    }

    private static int RoomLeft(SpotView spot) => spot.Now.Room - spot.Now.Batches.Count;
}
