using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Spots;

/// <summary>The stay of a probe on a spot, half-open in time; without an end while it lasts. One probe may survey spots in turn.</summary>
public sealed record Station(ProbeId Probe, SpotId Spot, Interval When);
