using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>One sensor, or a thermometer somebody reads.</summary>
/// <param name="Id">Its name, also its topic level.</param>
/// <param name="Measurand">What it measures the temperature of.</param>
/// <param name="MaxGap">
/// Silence longer than this is a gap: the temperature between two readings further apart is not taken as a straight line.
/// Positive. A sensor that reports on change only needs its heartbeat time here.
/// </param>
public sealed record Probe(ProbeId Id, Measurand Measurand, Duration MaxGap)
{
    /// <summary>2 h: longer than the heartbeat of usual battery sensors, shorter than a warm spot's cooling. Common practice, no
    /// source.</summary>
    public static readonly Duration DefaultMaxGap = Duration.FromHours(2);
}
