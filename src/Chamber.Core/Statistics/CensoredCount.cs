namespace Chamber.Core.Statistics;

/// <summary>So many for which something happened after one time and not later than another, or had not happened when last looked
/// at.</summary>
/// <param name="From">It had not happened by then; 0 or more.</param>
/// <param name="To">It had happened by then, not before <paramref name="From"/> (equal: at exactly that time); null when it was never
/// seen.</param>
/// <param name="Count">How many, 0 or more.</param>
public readonly record struct CensoredCount(double From, double? To, int Count);
