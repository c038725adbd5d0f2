using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;

namespace Chamber.Service.Home.Writing;

/// <summary>A sowing to be recorded.</summary>
/// <param name="Crop">The crop, by any of its names.</param>
/// <param name="Seeds">How many seeds, at least 1.</param>
/// <param name="Spot">Where it stands.</param>
/// <param name="Method">How; covered mix by default, or open mix where the seed needs light.</param>
/// <param name="Lot">The lot of seed, or null.</param>
/// <param name="Name">A name for the stick; otherwise the next free one.</param>
/// <param name="Containers">How many containers it fills; 1 by default.</param>
/// <param name="Treatment">What was done to the seed before, or null.</param>
/// <param name="At">When it was wetted and placed, as a person writes it; now by default.</param>
/// <param name="Depth">Mix above the seed, mm; null for the crop's usual depth.</param>
internal sealed record SowRequest(
    string Crop,
    int Seeds,
    string Spot,
    SowingMethod? Method = null,
    LotId? Lot = null,
    BatchId? Name = null,
    int? Containers = null,
    string? Treatment = null,
    string? At = null,
    double? Depth = null);

/// <summary>Somebody looked.</summary>
/// <param name="Up">How many are up in all; 0 is a look like any other.</param>
/// <param name="Note">What else you saw.</param>
/// <param name="At">When; now by default.</param>
/// <param name="Moisture">How damp it felt; null when nobody said.</param>
internal sealed record LookRequest(int Up, string? Note = null, string? At = null, LookMoisture? Moisture = null);

/// <summary>Something was done.</summary>
/// <param name="Done">What.</param>
/// <param name="Plants">To how many plants; null when nobody counted.</param>
/// <param name="Note">What else.</param>
/// <param name="At">When; now by default.</param>
/// <param name="Spot">For moved-to-light: the bright spot it is on now. May be left out when it is on one, or when only some
/// of the plants were moved.</param>
internal sealed record StageRequest(StageKind Done, int? Plants = null, string? Note = null, string? At = null, string? Spot = null);

/// <summary>Plants were lost.</summary>
/// <param name="Plants">How many, at least 1.</param>
/// <param name="Cause">What to; unknown by default.</param>
/// <param name="Note">What else.</param>
/// <param name="At">When; now by default.</param>
internal sealed record LossRequest(int Plants, LossCause? Cause = null, string? Note = null, string? At = null);

/// <summary>A move to another spot.</summary>
/// <param name="Spot">The spot it is on now.</param>
/// <param name="At">Since when; now by default.</param>
internal sealed record MoveRequest(string Spot, string? At = null);

/// <summary>Something that needs no more than its time.</summary>
/// <param name="At">When; now by default.</param>
internal sealed record MomentRequest(string? At = null);
