using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>A spot to be added or changed. What is left out stays as it is, or is a dim shelf with room for one.</summary>
/// <param name="Kind">What sort of spot; decides which cautions are shown.</param>
/// <param name="Light">How much light a container gets there.</param>
/// <param name="Room">How many containers fit, at least 1.</param>
internal sealed record SpotRequest(SpotKind? Kind = null, LightLevel? Light = null, int? Room = null);

/// <summary>A probe to be set up or changed. What is left out stays as it is.</summary>
/// <param name="Measures">Air by default.</param>
/// <param name="MaxGap">Silence longer than this is a gap; 2 h by default.</param>
/// <param name="HandRead">Somebody reads it: its silence raises no alert.</param>
/// <param name="Spot">Where it stands from now on; null leaves it where it is.</param>
internal sealed record ProbeRequest(Measurand? Measures = null, Duration? MaxGap = null, bool? HandRead = null, string? Spot = null);

/// <summary>A thermometer that somebody read.</summary>
/// <param name="Where">The spot where it hangs, or its own name.</param>
/// <param name="Temperature">What it says, with the unit: 75F or 23.9C.</param>
/// <param name="Humidity">Relative humidity, percent, when it says that too.</param>
/// <param name="Sure">Take the value as it is, even if it looks like the other unit.</param>
/// <param name="At">When it was read; now by default.</param>
/// <param name="Measures">What a thermometer that is new measures; air by default.</param>
internal sealed record ReadRequest(string Where, string Temperature, double? Humidity = null, bool Sure = false, string? At = null,
    Measurand? Measures = null);

/// <summary>A thermometer reading as it was recorded.</summary>
/// <param name="Probe">Under which name.</param>
/// <param name="Spot">Where it hangs; null when that is not known.</param>
/// <param name="At">When it was read.</param>
/// <param name="Temperature">What it said.</param>
/// <param name="Humidity">What it said of the humidity.</param>
/// <param name="IsNew">Whether it was not recorded already.</param>
internal sealed record ReadAnswer(ProbeId Probe, SpotId? Spot, Instant At, Temperature? Temperature,
    RelativeHumidity? Humidity, bool IsNew);
