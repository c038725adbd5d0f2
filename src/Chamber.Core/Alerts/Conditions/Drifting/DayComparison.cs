using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.Drifting;

/// <summary>
/// Compares the last 24 hours with the 24 before, hour for hour. Hours that differ little from one day to the next count much, so that on a
/// sill nights speak and noons hardly: a shift that began under the sun shows in the night after it. Measured against the difference's own
/// spread over a month. A value: a copy is independent.
/// </summary>
internal struct DayComparison
{
    private const int Hours = Hours24<double>.Count;
    private const int Both = Hours48<double>.Count;
    private const int MemoryDays = 30;

    // K that a day must differ by, and for how many hours on end.
    private const double SizeMin = 1;
    private const int HoldHours = 4;

    // Days before it is reported.
    private const int LearningDays = 8;

    private const double HourVariancePrior = 0.3;
    private const double HourVarianceMin = 0.01;
    private const double VariancePrior = 0.1;
    private const double VarianceMin = 0.005;

    // What is further off is the sort of thing that is looked for, and must not widen the limit that finds it: deviations.
    private const double ClipDeviations = 3;

    private Hours48<double> recent;
    private Hours24<double> variance;
    private double spread = VariancePrior;
    private long differences;
    private int count;
    private int held;
    private int lastHour = -1;
    private int known;
    private int sinceReported = int.MaxValue / 2;

    public DayComparison()
    {
        for (var hour = 0; hour < Hours; hour++)
        {
            variance[hour] = HourVariancePrior;
        }
    }

    /// <summary>The weighted difference of the last day and the one before, K.</summary>
    public double Difference { get; private set; }

    /// <summary>The weighted mean of the last day, K off the usual.</summary>
    public double Level { get; private set; }

    /// <summary>Takes in an hour; returns whether it stands out by so many deviations.</summary>
    /// <param name="hourOfDay">0 to 23.</param>
    /// <param name="residual">K off the usual.</param>
    /// <param name="deviations">The limit.</param>
    /// <param name="learn">Whether the spread may be learnt from it.</param>
    public bool Add(int hourOfDay, double residual, double deviations, bool learn)
    {
        if (lastHour >= 0 && hourOfDay != (lastHour + 1) % Hours)
        {
            Break();
        }

        lastHour = hourOfDay;
        sinceReported++;
        LearnHour(hourOfDay, residual);
        recent[count++ % Both] = residual;
        known++;
        if (count < Both || known < LearningDays * Hours)
        {
            return false;
        }

        Compare(hourOfDay);
        var limit = Math.Max(SizeMin, deviations * Math.Sqrt(spread));
        LearnSpread(learn);
        held = Math.Abs(Difference) < limit ? 0 : Math.Sign(Difference) == Math.Sign(held) ? held + Math.Sign(held) : Math.Sign(Difference);
        return Math.Abs(held) >= HoldHours && sinceReported > Hours;
    }

    /// <summary>What came so far is reported: a day that is reported is not compared with the next.</summary>
    public void Begin() => sinceReported = 0;

    /// <summary>What comes next does not follow on what came before: after a gap, or when the measure has changed.</summary>
    public void Break()
    {
        count = 0;
        held = 0;
    }

    private void LearnHour(int hourOfDay, double residual)
    {
        if (count < Hours)
        {
            return;
        }

        var difference = residual - recent[(count - Hours) % Both];
        var square = difference * difference;
        var clipped = known > LearningDays * Hours ? Math.Min(square, ClipDeviations * ClipDeviations * variance[hourOfDay]) : square;
        var share = Math.Max(1.0 / MemoryDays, 1.0 / Math.Max(1, known / Hours));
        variance[hourOfDay] = Math.Max(HourVarianceMin, variance[hourOfDay] + share * (clipped - variance[hourOfDay]));
    }

    private void Compare(int hourOfDay)
    {
        double weights = 0, difference = 0, level = 0;
        for (var age = 0; age < Hours; age++)
        {
            var weight = 1 / variance[(hourOfDay - age + Hours) % Hours];
            var now = recent[(count - 1 - age) % Both];
            weights += weight;
            difference += weight * (now - recent[(count - 1 - age - Hours) % Both]);
            level += weight * now;
        }

        Difference = difference / weights;
        Level = level / weights;
    }

    private void LearnSpread(bool learn)
    {
        if (!learn)
        {
            return;
        }

        var square = Math.Min(Difference * Difference, ClipDeviations * ClipDeviations * spread);
        spread = Math.Max(VarianceMin, spread + Math.Max(1.0 / (Hours * MemoryDays), 1.0 / ++differences) * (square - spread));
    }
}
