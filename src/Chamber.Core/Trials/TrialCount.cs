using Chamber.Core.Climate;

namespace Chamber.Core.Trials;

/// <summary>So many seeds of a trial at a steady temperature that came up between two looks, or were not up when the trial ended.</summary>
/// <param name="Temperature">The steady temperature of the trial.</param>
/// <param name="FromDays">The last look without them, days since the sowing, 0 or more.</param>
/// <param name="ToDays">The first look with them, later than <paramref name="FromDays"/>; null when they were not up at the end, which was
/// then <paramref name="FromDays"/>.</param>
/// <param name="Count">How many, 0 or more.</param>
public readonly record struct TrialCount(Temperature Temperature, double FromDays, double? ToDays, int Count)
{
    /// <summary>Which dish or tray of its temperature they lay in; null where there was one, or nobody wrote it down.</summary>
    public string? Dish { get; init; }
}
