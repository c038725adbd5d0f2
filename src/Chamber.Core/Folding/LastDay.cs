using Chamber.Core.Climate;

namespace Chamber.Core.Folding;

/// <summary>The last 24 hourly means of temperature. A value: a copy is independent.</summary>
internal struct LastDay
{
    private const int Hours = Hours24<double>.Count;
    private Hours24<double> means;
    private Hours24<int> hoursOfDay;
    private int count;

    public readonly bool IsFull => count >= Hours;

    public readonly Temperature Mean
    {
        get
        {
            var sum = 0.0;
            for (var i = 0; i < Known; i++)
            {
                sum += means[i];
            }

            return Temperature.FromCelsius(sum / Known);
        }
    }

    public readonly Temperature Lowest => Extreme(Math.Min);

    public readonly Temperature Highest => Extreme(Math.Max);

    private readonly int Known => Math.Max(1, Math.Min(count, Hours));

    public void Add(int hourOfDay, Temperature mean)
    {
        means[count % Hours] = mean.Celsius;
        hoursOfDay[count++ % Hours] = hourOfDay;
    }

    /// <summary>The mean difference from a usual day, hour for hour; null when none of its hours is known there.</summary>
    public readonly TemperatureDifference? MeanOff(IReadOnlyList<double?> usualCelsius)
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

        return known == 0 ? null : TemperatureDifference.FromKelvins(sum / known);
    }

    private readonly Temperature Extreme(Func<double, double, double> choose)
    {
        var extreme = means[0];
        for (var i = 1; i < Known; i++)
        {
            extreme = choose(extreme, means[i]);
        }

        return Temperature.FromCelsius(extreme);
    }
}
