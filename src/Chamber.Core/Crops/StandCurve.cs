using Chamber.Core.Climate;

namespace Chamber.Core.Crops;

/// <summary>
/// The share of sown seed that becomes a normal seedling at a steady temperature, straight between the measured points
/// and level outside them. Where nothing was measured there is one point. Equal when the points are.
/// </summary>
public sealed class StandCurve : IEquatable<StandCurve>
{
    private readonly (double Celsius, double Share)[] points;

    // Of the lines between them, share per kelvin.
    private readonly double[] slopes;
    private readonly double oneOverBest;

    /// <param name="points">Measured points; temperatures all different, shares from 0 to 1.</param>
    /// <exception cref="ArgumentException">There is no point, a temperature stands twice, or a share is outside 0 to 1.</exception>
    public StandCurve(IEnumerable<(Temperature Temperature, double Share)> points)
    {
        this.points = [.. points.Select(point => (point.Temperature.Celsius, point.Share)).OrderBy(point => point.Celsius)];
        if (this.points.Length == 0
            || this.points.Any(point => point.Share is not (>= 0 and <= 1))
            || this.points.DistinctBy(point => point.Celsius).Count() < this.points.Length)
        {
            throw new ArgumentException(
                "A stand curve needs at least one point, each at a temperature of its own with a share from 0 to 1.", nameof(points));
        }

        Best = this.points.Max(point => point.Share);
        oneOverBest = Best > 0 ? 1 / Best : 0;
        slopes = [.. this.points.Zip(this.points.Skip(1), (from, to) => (to.Share - from.Share) / (to.Celsius - from.Celsius))];
    }

    /// <summary>The measured points, coolest first.</summary>
    public IEnumerable<(Temperature Temperature, double Share)> Points =>
        points.Select(point => (Temperature.FromCelsius(point.Celsius), point.Share));

    /// <summary>The best share that was measured at any temperature.</summary>
    public double Best { get; }

    /// <summary>The share at a temperature, 0 to 1.</summary>
    public double ShareAt(Temperature temperature)
    {
        var celsius = temperature.Celsius;
        if (celsius <= points[0].Celsius)
        {
            return points[0].Share;
        }

        for (var i = 1; i < points.Length; i++)
        {
            if (celsius <= points[i].Celsius)
            {
                return points[i - 1].Share + slopes[i - 1] * (celsius - points[i - 1].Celsius);
            }
        }

        return points[^1].Share;
    }

    /// <summary>The share at a temperature against the best one, 0 to 1; 0 where nothing comes up anywhere.</summary>
    public double RelativeAt(Temperature temperature) => ShareAt(temperature) * oneOverBest;

    /// <summary>Whether the points are the same.</summary>
    public bool Equals(StandCurve? other) => other is not null && points.AsSpan().SequenceEqual(other.points);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as StandCurve);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(points.Length, points[0], points[^1]);
}
