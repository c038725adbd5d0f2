using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Storage.Seam;

/// <summary>A value and when it was measured.</summary>
public readonly record struct Dated<T>(Instant At, T Value);

/// <summary>
/// The newest of each quantity of a probe. A probe may send each quantity by itself, so each has its own time;
/// one that is more than a day older than the newest is left out.
/// </summary>
/// <param name="Probe">Whose they are.</param>
/// <param name="MeasuredAt">When the newest was measured.</param>
/// <param name="ReceivedAt">When that arrived.</param>
/// <param name="Temperature">Temperature of the probe's measurand.</param>
/// <param name="Humidity">Relative humidity.</param>
/// <param name="Moisture">Media moisture in the probe's own scale.</param>
/// <param name="Battery">0 to 100 %.</param>
public sealed record LatestReading(
    ProbeId Probe,
    Instant MeasuredAt,
    Instant ReceivedAt,
    Dated<Temperature>? Temperature,
    Dated<RelativeHumidity>? Humidity,
    Dated<double>? Moisture,
    Dated<double>? Battery);
