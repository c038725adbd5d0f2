namespace Chamber.Core.Statistics;

/// <summary>
/// The two one-sided cumulative sums of Page (1954, Biometrika 41:100-115) in tabular form:
/// S⁺ = max(0, S⁺ + x - k) and S⁻ = max(0, S⁻ - x - k), x being the distance from the target. The default value is a fresh start.
/// </summary>
/// <param name="High">S⁺, the sum upwards; at least 0.</param>
/// <param name="Low">S⁻, the sum downwards; at least 0.</param>
/// <param name="HighCount">Steps since S⁺ was 0.</param>
/// <param name="LowCount">Steps since S⁻ was 0.</param>
public readonly record struct Cusum(double High, double Low, int HighCount, int LowCount)
{
    /// <summary>Takes in the next distance from the target.</summary>
    /// <param name="distance">x less the target, in any unit.</param>
    /// <param name="allowance">k, in the same unit: half of the shift that is worth finding.</param>
    public Cusum Add(double distance, double allowance)
    {
        var high = Math.Max(0, High + distance - allowance);
        var low = Math.Max(0, Low - distance - allowance);
        return new(high, low, high > 0 ? HighCount + 1 : 0, low > 0 ? LowCount + 1 : 0);
    }

    /// <summary>Whether one of the sums lies above the limit h.</summary>
    public bool Signals(double limit) => High > limit || Low > limit;

    /// <summary>
    /// The size of the shift behind the larger sum, signed: k + S/N (Montgomery, Introduction to Statistical Quality Control, tabular
    /// CUSUM). 0 when both sums are 0.
    /// </summary>
    public double ShiftEstimate(double allowance)
    {
        if (High <= 0 && Low <= 0)
        {
            return 0;
        }

        return High >= Low ? allowance + High / HighCount : -allowance - Low / LowCount;
    }
}
