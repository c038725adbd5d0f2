namespace Chamber.Core.Statistics;

/// <summary>
/// The exponentially weighted moving average z = λx + (1-λ)z (Roberts 1959, Technometrics 1:239-250) and its control limits.
/// </summary>
/// <param name="Value">The average so far.</param>
/// <param name="Weight">λ, above 0 and at most 1.</param>
/// <param name="Count">How many values are in it.</param>
public readonly record struct Ewma(double Value, double Weight, int Count = 0)
{
    /// <summary>Takes in the next value.</summary>
    public Ewma Add(double value) => this with { Value = Weight * value + (1 - Weight) * Value, Count = Count + 1 };

    /// <summary>How far from the target the limits lie once many values are in: L σ √(λ/(2-λ)).</summary>
    /// <param name="sigma">Standard deviation of one value.</param>
    /// <param name="width">L, in standard deviations of the average.</param>
    public double LimitAtLast(double sigma, double width) => width * sigma * Math.Sqrt(Weight / (2 - Weight));

    /// <summary>The same for the values so far: L σ √(λ/(2-λ) (1-(1-λ)²ⁱ)).</summary>
    /// <param name="sigma">Standard deviation of one value.</param>
    /// <param name="width">L, in standard deviations of the average.</param>
    public double LimitNow(double sigma, double width) =>
        LimitAtLast(sigma, width) * Math.Sqrt(1 - Math.Pow(1 - Weight, 2 * Count));
}
