using NodaTime;

namespace Chamber.Core.Climate.Warmth;

/// <summary>The exact sums over straight lines of temperature that every fold shares: warm-hours, time, hours below and above.</summary>
internal struct LineSum(WarmthLimits limits)
{
    private readonly CardinalTemperatures cardinals = limits.Cardinals;
    private readonly double cool = limits.CoolLimit.Celsius;
    private readonly double hot = limits.HotLimit.Celsius;

    public readonly CardinalTemperatures Cardinals => cardinals;

    public double WarmHours { get; private set; }

    public long Ticks { get; private set; }

    public double HoursBelow { get; private set; }

    public double HoursAbove { get; private set; }

    public void Add(long ticks, double from, double to)
    {
        var hours = ticks / (double)NodaConstants.TicksPerHour;
        Ticks += ticks;
        WarmHours += hours * cardinals.MeanEffectiveWarmth(from, to);
        if (Math.Min(from, to) < cool)
        {
            HoursBelow += hours * ShareBelow(cool, from, to);
        }

        if (Math.Max(from, to) > hot)
        {
            HoursAbove += hours * ShareBelow(-hot, -from, -to);
        }
    }

    public void Clear() => (WarmHours, Ticks, HoursBelow, HoursAbove) = (0, 0, 0, 0);

    /// <summary>The share of a line, at least one end of which lies below the limit, that lies below it.</summary>
    private static double ShareBelow(double limit, double from, double to) =>
        from <= limit && to <= limit ? 1 : (limit - Math.Min(from, to)) / Math.Abs(to - from);
}
