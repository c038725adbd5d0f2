using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Batches;

/// <summary>Seeds of one lot sown at one time by one method.</summary>
/// <param name="Id">Its name, short enough for a stick label.</param>
/// <param name="Crop">What was sown.</param>
/// <param name="Lot">The lot the seeds came from, where that is known.</param>
/// <param name="Method">How it was sown.</param>
/// <param name="SownAt">When it was wetted and placed; warm-hours count from here.</param>
/// <param name="Seeds">How many seeds, at least 1.</param>
/// <param name="Stays">Where it stood, in order of time, without overlap; the last may lack an end.</param>
/// <param name="Looks">Every look, in order of time.</param>
/// <param name="EndedAt">When it was planted out, potted up or given up; nothing is watched after that.</param>
public sealed record Batch(
    BatchId Id,
    CropId Crop,
    LotId? Lot,
    SowingMethod Method,
    Instant SownAt,
    int Seeds,
    IReadOnlyList<Stay> Stays,
    IReadOnlyList<Look> Looks,
    Instant? EndedAt = null)
{
    /// <summary>What was done after it came up, in order of time.</summary>
    public IReadOnlyList<Stage> Stages { get; init; } = [];

    /// <summary>Plants lost after they had come up, in order of time.</summary>
    public IReadOnlyList<Loss> Losses { get; init; } = [];

    /// <summary>When it was wetted again, in order of time; sowing is a wetting too and not among them.</summary>
    public IReadOnlyList<Instant> Wettings { get; init; } = [];

    /// <summary>Photos of it, in order of time.</summary>
    public IReadOnlyList<BatchPhoto> Photos { get; init; } = [];

    /// <summary>When it is to be planted out, in the home's zone; null when that is not planned.</summary>
    public LocalDate? PlantOut { get; init; }

    /// <summary>How many containers it fills; what it takes of a spot's room. At least 1.</summary>
    public int Containers { get; init; } = 1;

    /// <summary>Whether it was sown to test its lot and not for plants.</summary>
    public bool IsTest { get; init; }

    /// <summary>Mix above the seed, mm; null for the crop's usual depth.</summary>
    public double? DepthMillimetres { get; init; }

    /// <summary>What was done to the seed before ("soaked 12 h"), or null.</summary>
    public string? Treatment { get; init; }

    /// <summary>Whether nobody waits for more of it: it has ended, or was pricked out, potted on or taken further.</summary>
    public bool IsPastWaiting => EndedAt is not null
        || Stages.Any(stage => stage.Kind is StageKind.PrickedOut or StageKind.PottedOn or StageKind.HardeningOff or StageKind.PlantedOut);

    /// <summary>The looks as days since the sowing and the count of all up: of two looks at one time the later word holds.</summary>
    public IReadOnlyList<(double Days, int Up)> DayCounts =>
        [.. Looks.Where(look => look.At > SownAt).GroupBy(look => look.At).Select(same => ((same.Key - SownAt).TotalDays, same.Last().Up))];
}

/// <summary>The stay of a batch on a spot, half-open in time; without an end while it lasts.</summary>
public sealed record Stay(SpotId Spot, Interval When);

/// <summary>Somebody looked at a batch and counted. A count of 0 is a look like any other.</summary>
/// <param name="At">When they looked.</param>
/// <param name="Up">How many were up in all; from 0 to the number of seeds, never falling.</param>
/// <param name="Note">What else was seen ("mould", "wetted again"), or null.</param>
/// <param name="Moisture">How damp it felt; null when nobody said.</param>
public sealed record Look(Instant At, int Up, string? Note = null, LookMoisture? Moisture = null);

/// <summary>How damp mix or towel felt at a look.</summary>
public enum LookMoisture
{
    /// <summary>Dry to a finger.</summary>
    Dry,

    /// <summary>As damp as a wrung sponge.</summary>
    Moist,

    /// <summary>Water stands in it or runs from it.</summary>
    Wet,
}
