namespace Chamber.Core.Alerts;

/// <summary>The last 24 hourly means.</summary>
internal sealed class LastDay
{
    private const int Hours = 24;
    private double[] means = new double[Hours];
    private int count;

    public bool IsFull => count >= Hours;

    public double Mean => Known.Average();

    public double Lowest => Known.Min();

    public double Highest => Known.Max();

    private IEnumerable<double> Known => means.Take(Math.Max(1, Math.Min(count, Hours)));

    public void Add(double mean) => means[count++ % Hours] = mean;

    public LastDay Copy()
    {
        var copy = (LastDay)MemberwiseClone();
        copy.means = [.. means];
        return copy;
    }
}
