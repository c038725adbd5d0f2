using NodaTime;

namespace Chamber.Core.Folding;

/// <summary>A sum over the last 24 hours, kept in 24 buckets of an hour. A value: a copy is independent.</summary>
internal struct RollingDay
{
    private const int Hours = Hours24<double>.Count;
    private Hours24<double> buckets;
    private long hour;
    private double sum;

    /// <summary>The sum over the hour of a moment and the 23 before it. Time does not go back.</summary>
    public double SumAt(Moment at)
    {
        Roll(at.Ticks / NodaConstants.TicksPerHour);
        return sum;
    }

    public void Add(Moment at, double amount)
    {
        Roll(at.Ticks / NodaConstants.TicksPerHour);
        buckets[(int)(hour % Hours)] += amount;
        sum += amount;
    }

    public void Clear()
    {
        buckets = default;
        sum = 0;
    }

    private void Roll(long now)
    {
        if (now == hour)
        {
            return;
        }

        if (now - hour >= Hours)
        {
            Clear();
            hour = now;
            return;
        }

        while (hour < now)
        {
            hour++;
            buckets[(int)(hour % Hours)] = 0;
        }

        // Summed again, so that rounding does not build up over years.
        sum = 0;
        for (var i = 0; i < Hours; i++)
        {
            sum += buckets[i];
        }
    }
}
