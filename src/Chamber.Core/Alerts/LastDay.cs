namespace Chamber.Core.Alerts;

/// <summary>The last 24 hourly means.</summary>
internal sealed class LastDay
{
    private const int Hours = 24;
    private double[] means = new double[Hours];
    private int[] hoursOfDay = new int[Hours];
    private int count;

    public bool IsFull => count >= Hours;

    public double Mean => Known.Average();

    public double Lowest => Known.Min();

    public double Highest => Known.Max();

    private IEnumerable<double> Known => means.Take(Math.Max(1, Math.Min(count, Hours)));

    public void Add(int hourOfDay, double mean)
    {
        means[count % Hours] = mean;
        hoursOfDay[count++ % Hours] = hourOfDay;
    }

    /// <summary>The mean difference from a usual day, hour for hour, K; null when none of its hours is known there.</summary>
    public double? MeanOff(IReadOnlyList<double?> usualCelsius)
    {
        var (sum, known) = (0.0, 0);
        for (var i = 0; i < Math.Min(count, Hours); i++)
        {
            if (usualCelsius[hoursOfDay[i]] is { } usual)
            {
                sum += means[i] - usual;
                known++;
            }
        }

        return known == 0 ? null : sum / known;
    }

    public LastDay Copy()
    {
        var copy = (LastDay)MemberwiseClone();
        copy.means = [.. means];
        copy.hoursOfDay = [.. hoursOfDay];
        return copy;
    }
}
