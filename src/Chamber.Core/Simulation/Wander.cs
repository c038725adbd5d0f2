using MathNet.Numerics.Distributions;

namespace Chamber.Core.Simulation;

/// <summary>A value that wanders about zero and forgets where it was: a first-order autoregression with normal steps.</summary>
internal sealed class Wander(Random random, double deviation, double memoryHours, double stepHours)
{
    private readonly double kept = Math.Exp(-stepHours / memoryHours);
    private readonly double added = deviation * Math.Sqrt(1 - Math.Exp(-2 * stepHours / memoryHours));

    public double Value { get; private set; } = Normal.Sample(random, 0, deviation);

    public void Step() => Value = Value * kept + Normal.Sample(random, 0, added);
}
