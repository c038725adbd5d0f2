namespace Chamber.Core.Alerts;

/// <summary>The last 24 hourly values.</summary>
internal sealed class RecentHours
{
    private const int Hours = 24;
    private double[] values = new double[Hours];
    private int count;

    public void Add(double value) => values[count++ % Hours] = value;

    /// <summary>The mean of the last ones, at most 24; 0 while there is none.</summary>
    public double Mean(int hours)
    {
        var known = Math.Min(hours, Math.Min(count, Hours));
        var sum = 0.0;
        for (var i = 1; i <= known; i++)
        {
            sum += values[(count - i) % Hours];
        }

        return known == 0 ? 0 : sum / known;
    }

    public RecentHours Copy()
    {
        var copy = (RecentHours)MemberwiseClone();
        copy.values = [.. values];
        return copy;
    }
}
