using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>Whose clock <see cref="Reading.MeasuredAt"/> comes from.</summary>
public enum ClockSource
{
    /// <summary>The payload's own time, which lay within the trusted limits.</summary>
    Payload,

    /// <summary>The time of arrival here: the payload had no time, or one that could not be trusted.</summary>
    Arrival,

    /// <summary>The time of arrival here by a clock that was wrong or not sure.</summary>
    Doubted,

    /// <summary>The time of arrival here by a clock that was then put back: it is dated after what was measured later, so that the watch
    /// passes it over.</summary>
    Overtaken,
}

/// <summary>
/// What a probe said. Any quantity may be absent. Identified by (<see cref="Probe"/>, <see cref="MeasuredAt"/>) to the millisecond.
/// Holds usable values only: sentinel and impossible values are kept as refusals, never here.
/// </summary>
/// <param name="Probe">Who said it.</param>
/// <param name="MeasuredAt">When it was measured.</param>
/// <param name="ReceivedAt">When it arrived here.</param>
/// <param name="Temperature">Temperature of the probe's measurand, before any calibration offset.</param>
/// <param name="Humidity">Relative humidity of the air.</param>
/// <param name="Moisture">Media moisture in the probe's own raw scale, before its two-point calibration; finite.</param>
/// <param name="Battery">Battery charge, 0 to 100 %.</param>
/// <param name="Clock">Whose clock the measurement time comes from.</param>
public readonly record struct Reading(
    ProbeId Probe,
    Instant MeasuredAt,
    Instant ReceivedAt,
    Temperature? Temperature = null,
    RelativeHumidity? Humidity = null,
    double? Moisture = null,
    double? Battery = null,
    ClockSource Clock = ClockSource.Payload)
{
    /// <summary>Whether there is anything in it.</summary>
    public bool IsEmpty => Temperature is null && Humidity is null && Moisture is null && Battery is null;
}
