namespace Chamber.Core.Folding;

/// <summary>The last 24 hourly values. A value: a copy is independent.</summary>
internal struct RecentHours
{
    private Hours24<double> values;
    private int count;

    public void Add(double value) => values[count++ % Hours24<double>.Count] = value;

    /// <summary>The mean of the last ones, at most 24; 0 while there is none.</summary>
    public readonly double Mean(int hours)
    {
        var known = Math.Min(hours, Math.Min(count, Hours24<double>.Count));
        var sum = 0.0;
        for (var i = 1; i <= known; i++)
        {
            sum += values[(count - i) % Hours24<double>.Count];
        }

        return known == 0 ? 0 : sum / known;
    }
}
