namespace Chamber.Core.Plans;

/// <summary>From the harvest back to plants.</summary>
public static class Harvest
{
    /// <summary>Plants for a wanted amount.</summary>
    /// <param name="wanted">How much, in any unit.</param>
    /// <param name="yieldPerPlant">What one plant gives, in the same unit, as the user knows it.</param>
    public static int Plants(double wanted, double yieldPerPlant)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(wanted);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(yieldPerPlant);
        return checked((int)Math.Ceiling(wanted / yieldPerPlant - 1e-9));
    }
}
