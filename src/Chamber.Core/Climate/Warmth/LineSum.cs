using NodaTime;

namespace Chamber.Core.Climate.Warmth;

/// <summary>The exact sums over straight lines of temperature that every fold shares: warm-hours, time, hours below and above.</summary>
internal struct LineSum(WarmthLimits limits)
{
    private readonly CardinalTemperatures cardinals = limits.Cardinals;
    private readonly double cool = limits.CoolLimit.Celsius;
    private readonly double hot = limits.HotLimit.Celsius;

    // Summed over ticks and divided when asked, since every reading comes through here.
    private double warmTicks;
    private double ticksBelow;
    private double ticksAbove;

    public readonly CardinalTemperatures Cardinals => cardinals;

    public readonly double WarmHours => warmTicks / NodaConstants.TicksPerHour;

    public long Ticks { get; private set; }

    public readonly double HoursBelow => ticksBelow / NodaConstants.TicksPerHour;

    public readonly double HoursAbove => ticksAbove / NodaConstants.TicksPerHour;

    public void Add(long ticks, double from, double to)
    {
        var (low, high) = (double.MinNative(from, to), double.MaxNative(from, to));
        Ticks += ticks;
        warmTicks += ticks * cardinals.MeanBetween(low, high);
        if (low < cool)
        {
            ticksBelow += ticks * (high <= cool ? 1 : (cool - low) / (high - low));
        }

        if (high > hot)
        {
            ticksAbove += ticks * (low >= hot ? 1 : (high - hot) / (high - low));
        }
    }

    public void Clear() => (warmTicks, Ticks, ticksBelow, ticksAbove) = (0, 0, 0, 0);
}
