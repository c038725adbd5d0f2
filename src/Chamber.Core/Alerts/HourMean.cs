using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>The mean temperature of the running hour, over the straight lines between readings.</summary>
internal struct HourMean
{
    private const long Hour = NodaConstants.TicksPerHour;
    private double celsiusTicks;
    private long ticks;

    /// <summary>When the running hour ends.</summary>
    public long End { get; private set; }

    /// <summary>Counts a line that lies within the running hour.</summary>
    public void Add(long from, double fromCelsius, long to, double toCelsius)
    {
        celsiusTicks += (fromCelsius + toCelsius) / 2 * (to - from);
        ticks += to - from;
    }

    /// <summary>The mean of the hour, when at least half of it was measured.</summary>
    public readonly double? Mean => ticks >= Hour / 2 ? celsiusTicks / ticks : null;

    /// <summary>Begins the hour in which an instant lies.</summary>
    public void Begin(long at)
    {
        celsiusTicks = 0;
        ticks = 0;
        End = (at / Hour + 1) * Hour;
    }
}
