namespace Chamber.Core.Tests.Alerts;

/// <summary>Draws from a seeded source.</summary>
internal static class Seeded
{
    /// <summary>Standard normal, by Box and Muller (1958).</summary>
    public static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
