using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>A sum over the last 24 hours, kept in 24 buckets of an hour.</summary>
internal sealed class RollingDay
{
    private const int Hours = 24;
    private readonly double[] buckets = new double[Hours];
    private long hour;

    private double sum;

    /// <summary>The sum over the hour of an instant and the 23 before it. Time does not go back.</summary>
    public double SumAt(long ticks)
    {
        Roll(ticks / NodaConstants.TicksPerHour);
        return sum;
    }

    public void Add(long ticks, double amount)
    {
        Roll(ticks / NodaConstants.TicksPerHour);
        buckets[hour % Hours] += amount;
        sum += amount;
    }

    public void Clear()
    {
        Array.Clear(buckets);
        sum = 0;
    }

    public RollingDay Copy()
    {
        var copy = new RollingDay { hour = hour, sum = sum };
        buckets.CopyTo(copy.buckets, 0);
        return copy;
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
            buckets[hour % Hours] = 0;
        }

        // Summed anew, so that rounding does not build up over years.
        sum = buckets.Sum();
    }
}
