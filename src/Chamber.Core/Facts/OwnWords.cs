using NodaTime;

namespace Chamber.Core.Facts;

/// <summary>A note about a batch or a spot.</summary>
/// <param name="About">Which.</param>
/// <param name="At">When it was so.</param>
/// <param name="Text">What.</param>
public sealed record Note(FactSubject About, Instant At, string Text);

/// <summary>Limits of alerts that somebody has chosen for a batch, or for a spot.</summary>
/// <param name="About">For which.</param>
/// <param name="TooHot">It is too hot above it, °C; null as the crop has it.</param>
/// <param name="TooCold">It is too cold below it, °C; null as the crop has it.</param>
public sealed record OwnLimits(FactSubject About, double? TooHot, double? TooCold);
