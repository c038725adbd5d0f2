using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.Drifting;

/// <summary>
/// Looks for a step in hourly residuals that hang together. Each is predicted from the one before, r = φ r' + e, with φ and the variance of
/// e separate for each hour of the day: sun and cloud make a sill's noons unlike its nights. For a step of size δ at every hour of the
/// last two days the likelihood ratio against none (Willsky and Jones 1976; Basseville and Nikiforov 1993, chapter 7) is taken: e holds δ
/// in the first hour and (1 - φ) δ in those after it. A value: a copy is independent.
/// </summary>
internal struct StepSearch
{
    // Hours a step is looked for, and those it must have lasted.
    private const int Window = Hours48<Innovation>.Count;
    private const int Youngest = 12;

    private const double SizeMin = 1;

    private const int Hours = Hours24<double>.Count;
    private const int MemoryDays = 30;

    // K² that count as seen with the φ taken for granted before anything is.
    private const double PriorSquare = 0.02;
    private const double PriorPhi = 0.9;
    private const double PhiMin = 0.2;
    private const double PhiMax = 0.995;
    private const double VariancePrior = 0.1;
    private const double VarianceMin = 0.004;

    // A shift must neither pass for how the spot is (K) nor widen its own limit (deviations).
    private const double ResidualMax = 2;
    private const double InnovationMax = 6;

    private Hours24<double> products;
    private Hours24<double> squares;
    private Hours24<double> variance;
    private Hours48<Innovation> recent;
    private double last;
    private int lastHour = -1;
    private int count;
    private int beganAt;

    public StepSearch()
    {
        for (var hour = 0; hour < Hours; hour++)
        {
            variance[hour] = VariancePrior;
        }
    }

    /// <summary>Hours that the step found has lasted, 0 when there is none.</summary>
    public int Lasted { get; private set; }

    /// <summary>The size of the step found, K.</summary>
    public double Size { get; private set; }

    public void Add(int hourOfDay, double residual)
    {
        var phi = Math.Clamp((products[hourOfDay] + PriorSquare * PriorPhi) / (squares[hourOfDay] + PriorSquare), PhiMin, PhiMax);
        var follows = lastHour == (hourOfDay + Hours - 1) % Hours;
        if (follows)
        {
            var error = residual - phi * last;
            recent[count++ % Window] = new(error, 1 / variance[hourOfDay], 1 - phi);
            Learn(hourOfDay, residual, error);
        }
        else
        {
            // What came over a gap cannot be predicted from the hour before.
            recent[count++ % Window] = new(0, 0, 1 - phi);
        }

        last = residual;
        lastHour = hourOfDay;
    }

    /// <summary>Looks through the last two days; returns whether there is a step in them.</summary>
    /// <param name="deviations">By how many it must stand out.</param>
    public bool Find(double deviations)
    {
        (Lasted, Size) = (0, 0);
        var best = deviations * deviations;
        double weighted = 0, weight = 0;
        var hours = Math.Min(Window, count - beganAt);
        for (var age = 1; age <= hours; age++)
        {
            var (error, precision, share) = recent[(count - age) % Window];
            var sum = weighted + precision * error;
            var whole = weight + precision;
            if (age >= Youngest && sum * sum > best * whole)
            {
                best = sum * sum / whole;
                (Lasted, Size) = (age, sum / whole);
            }

            weighted += precision * share * error;
            weight += precision * share * share;
        }

        return Math.Abs(Size) >= SizeMin;
    }

    /// <summary>What came so far is reported: only steps from here on count.</summary>
    public void Begin() => beganAt = count;

    /// <summary>What comes next cannot be predicted from what came before.</summary>
    public void Break() => lastHour = -1;

    /// <summary>The usual has moved.</summary>
    public void Move(double kelvins) => last -= kelvins;

    private void Learn(int hourOfDay, double residual, double error)
    {
        var share = Math.Max(1.0 / MemoryDays, 1.0 / Math.Max(1, count / Hours));
        var (now, before) = (Math.Clamp(residual, -ResidualMax, ResidualMax), Math.Clamp(last, -ResidualMax, ResidualMax));
        products[hourOfDay] += share * (now * before - products[hourOfDay]);
        squares[hourOfDay] += share * (before * before - squares[hourOfDay]);
        var square = Math.Min(error * error, InnovationMax * InnovationMax * variance[hourOfDay]);
        variance[hourOfDay] = Math.Max(VarianceMin, variance[hourOfDay] + share * (square - variance[hourOfDay]));
    }

    /// <param name="Error">What the hour before did not predict, K.</param>
    /// <param name="Precision">One over its variance, 1/K²; 0 over a gap.</param>
    /// <param name="Share">How much of an earlier step it holds, 1 - φ.</param>
    private readonly record struct Innovation(double Error, double Precision, double Share);
}
