using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Crops;

/// <summary>
/// The share of sown seed that becomes a normal seedling at a steady temperature: straight between the given points and level outside
/// them, times the share of seeds whose ceiling lies above the temperature. Where nothing was measured there is one point. Equal when all
/// of it is.
/// </summary>
public sealed class StandCurve : IEquatable<StandCurve>
{
    private const double ShownStep = 5;

    private readonly (double Celsius, double Share)[] points;

    /// <param name="points">The shares but for heat; temperatures all different, shares from 0 to 1.</param>
    /// <param name="ceilings">What heat leaves; null where the points say it all.</param>
    /// <exception cref="ArgumentException">There is no point, a temperature stands twice, or a share is outside 0 to 1.</exception>
    public StandCurve(IEnumerable<(Temperature Temperature, double Share)> points, SeedCeilings? ceilings = null)
    {
        this.points = [.. points.Select(point => (point.Temperature.Celsius, point.Share)).OrderBy(point => point.Celsius)];
        if (this.points.Length == 0
            || this.points.Any(point => point.Share is not (>= 0 and <= 1))
            || this.points.DistinctBy(point => point.Celsius).Count() < this.points.Length)
        {
            throw new ArgumentException(
                "A stand curve needs at least one point, each at its own temperature with a share from 0 to 1.", nameof(points));
        }

        Ceilings = ceilings;
        Best = this.points.Max(point => ShareAt(Temperature.FromCelsius(point.Celsius)));
    }

    /// <summary>How the seeds' ceilings lie; null where the points say what heat leaves.</summary>
    public SeedCeilings? Ceilings { get; }

    /// <summary>
    /// How far the middle ceiling of a lot may lie from the curve's, standard deviation, K: sorts differ. 0 where nothing is assumed.
    /// </summary>
    public double CeilingDoubtKelvins { get; init; }

    /// <summary>Temperatures with their shares, coolest first: the points, and steps of 5 °C from the last to where no seed is
    /// left.</summary>
    public IEnumerable<(Temperature Temperature, double Share)> Points =>
        points.Select(point => point.Celsius).Concat(Warmer()).Select(Temperature.FromCelsius)
            .Select(temperature => (temperature, ShareAt(temperature)));

    /// <summary>The best share at any of the points.</summary>
    public double Best { get; }

    /// <summary>The share at a temperature, 0 to 1.</summary>
    public double ShareAt(Temperature temperature) => ShareAt(temperature, 0);

    /// <summary>The share at a temperature against the best one, 0 to 1; 0 where nothing comes up anywhere.</summary>
    public double RelativeAt(Temperature temperature) => RelativeAt(temperature, 0);

    /// <summary>The same, had the seeds other ceilings.</summary>
    /// <param name="temperature">The temperature.</param>
    /// <param name="warmerKelvins">By how much all ceilings lie higher, K.</param>
    public double RelativeAt(Temperature temperature, double warmerKelvins) =>
        Best > 0 ? Math.Min(1, ShareAt(temperature, warmerKelvins) / Best) : 0;

    /// <summary>The same curve with every share times a factor.</summary>
    /// <exception cref="ArgumentException">A share would leave 0 to 1.</exception>
    public StandCurve Times(double factor) =>
        new(points.Select(point => (Temperature.FromCelsius(point.Celsius), Math.Min(1, point.Share * factor))), Ceilings)
        {
            CeilingDoubtKelvins = CeilingDoubtKelvins,
        };

    private double ShareAt(Temperature temperature, double warmerKelvins) => Level(temperature.Celsius)
        * (Ceilings?.ShareAbove(Temperature.FromCelsius(temperature.Celsius - warmerKelvins)) ?? 1);

    private double Level(double celsius)
    {
        if (celsius <= points[0].Celsius)
        {
            return points[0].Share;
        }

        for (var i = 1; i < points.Length; i++)
        {
            if (celsius <= points[i].Celsius)
            {
                var weight = (celsius - points[i - 1].Celsius) / (points[i].Celsius - points[i - 1].Celsius);
                return points[i - 1].Share * (1 - weight) + points[i].Share * weight;
            }
        }

        return points[^1].Share;
    }

    private IEnumerable<double> Warmer()
    {
        if (Ceilings is not { } ceilings)
        {
            yield break;
        }

        var first = ShownStep * Math.Floor(points[^1].Celsius / ShownStep + 1);
        for (var celsius = first; celsius < ceilings.Highest.Celsius; celsius += ShownStep)
        {
            yield return celsius;
        }

        yield return ceilings.Highest.Celsius;
    }

    /// <summary>Whether points and ceilings are the same.</summary>
    public bool Equals(StandCurve? other) => other is not null && points.AsSpan().SequenceEqual(other.points)
        && Equals(Ceilings, other.Ceilings) && CeilingDoubtKelvins == other.CeilingDoubtKelvins;

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as StandCurve);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(points.Length, points[0], points[^1], Ceilings);
}
