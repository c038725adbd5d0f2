using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Seeds;

/// <summary>Where the seeds of a lot came from.</summary>
public enum SeedOrigin
{
    Bought,
    Saved,
}

/// <summary>Which year is on the packet or in the notebook. Age is counted from each in its own way.</summary>
public enum LotYearKind
{
    /// <summary>The seed ripened in this year.</summary>
    Harvested,

    /// <summary>The packet was filled, or packed for, this year: the seed is at least one season older.</summary>
    PackedFor,

    /// <summary>The seller wants it sown by the end of this year: a sale date, which says little about age.</summary>
    SowBy,
}

/// <summary>Where a lot is kept; with the temperature and humidity it usually has there (<see cref="SeedStorages"/>).</summary>
public enum SeedStorage
{
    /// <summary>A drawer or shelf in a lived-in room.</summary>
    Room,

    /// <summary>A cool dry room, paper packets.</summary>
    CoolRoom,

    /// <summary>A refrigerator, in an airtight jar with something that dries.</summary>
    RefrigeratorJar,

    /// <summary>A freezer, dried first and sealed.</summary>
    FreezerSealed,

    /// <summary>A shed, cellar or kitchen where air is damp.</summary>
    Damp,

    /// <summary>Over a boiler, beside a stove, in the sun: the warm spots are for sowing, not for keeping.</summary>
    Warm,
}

/// <summary>Seeds of one origin.</summary>
/// <param name="Id">Its name.</param>
/// <param name="Crop">What it is.</param>
/// <param name="Variety">The variety as the packet says it, or null.</param>
/// <param name="Origin">Bought or saved.</param>
/// <param name="Year">The year on the packet or of the harvest, or null when nobody knows.</param>
/// <param name="YearKind">Which year that is.</param>
/// <param name="Counted">How many seeds there were when they were last counted; at least 0.</param>
/// <param name="CountedAt">When they were counted: what is sown or tested from then on is taken off.</param>
/// <param name="Price">What the lot cost, in the home's own money; 0 for a gift; null when unknown.</param>
/// <param name="Bought">How many seeds the price paid for, where that differs from the last count; null for the same.</param>
/// <param name="Storage">Where it is kept.</param>
/// <param name="Treated">Whether the seed is treated with a pesticide (an unnatural colour, or the label says so).</param>
/// <param name="Parent">The lot whose plants bore this seed, where it was saved.</param>
/// <param name="StatedShare">The germination stated on the packet, 0 to 1, or null.</param>
/// <param name="Note">What else is known, or null.</param>
public sealed record Lot(
    LotId Id,
    CropId Crop,
    string? Variety,
    SeedOrigin Origin,
    int? Year,
    LotYearKind YearKind,
    int Counted,
    Instant CountedAt,
    decimal? Price = null,
    int? Bought = null,
    SeedStorage Storage = SeedStorage.Room,
    bool Treated = false,
    LotId? Parent = null,
    double? StatedShare = null,
    string? Note = null);
