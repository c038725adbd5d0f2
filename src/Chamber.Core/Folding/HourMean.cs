using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Folding;

/// <summary>The mean temperature of the running hour, over the straight lines between readings. A value: a copy is independent.</summary>
internal struct HourMean
{
    private double celsiusTicks;
    private long ticks;

    /// <summary>When the running hour ends.</summary>
    public Moment End { get; private set; }

    /// <summary>Counts a line that lies within the running hour.</summary>
    public void Add(in TimedTemperature from, in TimedTemperature to)
    {
        var length = to.At.Ticks - from.At.Ticks;
        celsiusTicks += (from.Temperature.Celsius + to.Temperature.Celsius) / 2 * length;
        ticks += length;
    }

    /// <summary>The mean of the hour, when at least half of it was measured.</summary>
    public readonly Temperature? Mean => ticks >= NodaConstants.TicksPerHour / 2 ? Temperature.FromCelsius(celsiusTicks / ticks) : null;

    /// <summary>Begins the hour in which a moment lies.</summary>
    public void Begin(Moment at)
    {
        celsiusTicks = 0;
        ticks = 0;
        End = at.NextHour;
    }

    /// <summary>Where the line between two temperatures crosses the end of the running hour.</summary>
    public readonly TimedTemperature Crossing(in TimedTemperature from, in TimedTemperature to) => new(End, Temperature.FromCelsius(
        from.Temperature.Celsius + (to.Temperature.Celsius - from.Temperature.Celsius) * (
            (End.Ticks - from.At.Ticks) / (double)(to.At.Ticks - from.At.Ticks))));
}
