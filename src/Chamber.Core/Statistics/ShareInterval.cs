namespace Chamber.Core.Statistics;

/// <summary>A share, or a difference of two, with the interval that holds it. The default value is 0 to 0 and says nothing.</summary>
/// <param name="Low">Lower end.</param>
/// <param name="Mid">The estimate itself, from <paramref name="Low"/> to <paramref name="High"/>.</param>
/// <param name="High">Upper end.</param>
public readonly record struct ShareInterval(double Low, double Mid, double High)
{
    /// <summary>From the lower to the upper end.</summary>
    public double Width() => High - Low;

    /// <summary>Whether the interval holds a value, ends included.</summary>
    public bool Holds(double value) => value >= Low && value <= High;
}
