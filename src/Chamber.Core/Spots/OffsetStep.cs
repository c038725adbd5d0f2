using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Spots;

/// <summary>What to add to a probe's temperature from a date on, until the next step.</summary>
/// <param name="From">Applies to readings measured from here on.</param>
/// <param name="Offset">Added to the temperature.</param>
public readonly record struct OffsetStep(Instant From, TemperatureDifference Offset);
