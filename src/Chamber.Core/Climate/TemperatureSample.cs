using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>A temperature at an instant.</summary>
public readonly record struct TemperatureSample(Instant At, Temperature Temperature);
