using NodaTime;

namespace Chamber.Core.Batches;

/// <summary>What was done to a batch after it came up, in the order in which it usually happens.</summary>
public enum StageKind
{
    /// <summary>Lid or film taken off.</summary>
    Uncovered,

    /// <summary>Moved from the warm spot into the light.</summary>
    MovedToLight,

    /// <summary>Rooted seeds moved from the towel into mix.</summary>
    TowelPlanted,

    /// <summary>Set singly into cells or pots.</summary>
    PrickedOut,

    /// <summary>Moved into larger pots.</summary>
    PottedOn,

    /// <summary>First hours outdoors.</summary>
    HardeningOff,

    /// <summary>In its place in the garden.</summary>
    PlantedOut,
}

/// <summary>Somebody did the next thing to a batch.</summary>
/// <param name="Kind">What was done.</param>
/// <param name="At">When.</param>
/// <param name="Plants">How many plants it was done to, at least 1; null when nobody counted.</param>
/// <param name="Note">What else, or null.</param>
public sealed record Stage(StageKind Kind, Instant At, int? Plants = null, string? Note = null);

/// <summary>What plants were lost to.</summary>
public enum LossCause
{
    /// <summary>Pinched at the soil line and fallen over.</summary>
    DampingOff,

    /// <summary>Long, pale and floppy for want of light.</summary>
    Leggy,

    DriedOut,

    Cold,

    Heat,

    Mould,

    /// <summary>Slugs, mice, insects.</summary>
    Eaten,

    /// <summary>A broken root or stem.</summary>
    Handling,

    /// <summary>Taken out on purpose to make room.</summary>
    Thinned,

    Unknown,
}

/// <summary>Plants of a batch that were lost after they had come up.</summary>
/// <param name="At">When it was seen.</param>
/// <param name="Plants">How many, at least 1.</param>
/// <param name="Cause">What to.</param>
/// <param name="Note">What else, or null.</param>
public sealed record Loss(Instant At, int Plants, LossCause Cause, string? Note = null);
