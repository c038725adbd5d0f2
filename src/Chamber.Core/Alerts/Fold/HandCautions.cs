using Chamber.Core.Cautions;

namespace Chamber.Core.Alerts.Fold;

/// <summary>What to mind where an alert sends a hand.</summary>
/// <param name="SendsHand">Whether it sends one anywhere.</param>
internal sealed record HandCautions(bool SendsHand)
{
    /// <summary>It sends no hand anywhere: a clock, or a home that is warmer as a whole.</summary>
    public static HandCautions None { get; } = new(false);

    /// <summary>What the spot itself asks for.</summary>
    public static HandCautions OfSpot { get; } = new(true);

    /// <summary>What comes before everything else, in full.</summary>
    public IReadOnlyList<Caution> First { get; init; } = [];

    /// <summary>What stands in place of the spot's own caution; null for that.</summary>
    public Caution? InPlaceOfSpot { get; init; }

    /// <summary>What comes beside it.</summary>
    public IReadOnlyList<Caution> Beside { get; init; } = [];
}
