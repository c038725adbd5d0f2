namespace Chamber.Core.Climate.Warmth;

/// <summary>What warmth is measured against: a crop's cardinal temperatures and its two limits.</summary>
/// <param name="Cardinals">The temperatures that shape progress.</param>
/// <param name="CoolLimit">Time below it is counted as below.</param>
/// <param name="HotLimit">Time above it is counted as above.</param>
public readonly record struct WarmthLimits(CardinalTemperatures Cardinals, Temperature CoolLimit, Temperature HotLimit);
