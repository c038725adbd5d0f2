using Chamber.Core.Crops;
using Chamber.Core.Forecasts.Learning;
using MathNet.Numerics.LinearAlgebra;

namespace Chamber.Core.Forecasts.Together;

/// <summary>The factors that some homes' batches have in common, each with a place.</summary>
/// <param name="catalog">The shipped crops.</param>
/// <param name="priorTimes">By what the deviations of their priors are multiplied.</param>
internal sealed class FitTerms(CropCatalog catalog, double priorTimes)
{
    // Both numbers are given with two decimals.
    private const double SameTable = 1e-4;
    private const double SameBase = 0.006;

    private readonly Dictionary<(FactorKind, string), int> places = [];
    private readonly List<Factor> factors = [];

    public IReadOnlyList<Factor> Factors => factors;

    /// <summary>The kind of each factor in which homes differ; null for a family, whose part all homes share.</summary>
    public FactorKind?[] OwnKinds => [.. factors.Select(factor => factor.Kind == FactorKind.Family ? (FactorKind?)null : factor.Kind)];

    /// <summary>Takes a home in; a batch stated against another table is passed over.</summary>
    public FitHome Add(HomeExperience home)
    {
        var rows = home.Batches.Select(batch => (batch, Kind: KindOf(batch))).Where(each => each.Kind is not null).ToList();
        return new(
            [.. rows.Select(each => new FitRow(each.batch.Speed, each.batch.Lot, [.. Parts(each.Kind!)]))]);
    }

    public string ShownNameOf(Factor factor) => CropOf(factor)?.CommonName ?? factor.Name;

    public string? FamilyOf(Factor factor) => CropOf(factor) is { } crop ? CropFamilies.Of(crop) : null;

    private Crop? CropOf(Factor factor) => factor.Kind == FactorKind.Crop ? catalog.Find(new CropId(factor.Name)) : null;

    public Matrix<double> PriorPrecision() => Matrix<double>.Build.DenseOfDiagonalArray(
        [.. factors.Select(factor => 1 / factor.PriorDeviation / factor.PriorDeviation)]);

    /// <summary>What the priors pull a middle by.</summary>
    public Vector<double> PriorPull(Vector<double> middle) => Vector<double>.Build.Dense(factors.Count,
        at => (factors[at].PriorMean - middle[at]) / factors[at].PriorDeviation / factors[at].PriorDeviation);

    private List<Placed> Parts(BatchKind kind) => FactorPriors.AllOf(kind).Where(part => part.Factor.Kind != FactorKind.Lot)
        .Select(part => new Placed(PlaceOf(part.Factor), part.Times)).ToList();

    private int PlaceOf(Factor factor)
    {
        if (!places.TryGetValue((factor.Kind, factor.Name), out var place))
        {
            places.Add((factor.Kind, factor.Name), place = factors.Count);
            factors.Add(factor with { PriorDeviation = priorTimes * factor.PriorDeviation });
        }

        return place;
    }

    private BatchKind? KindOf(BatchExperience batch)
    {
        if (catalog.Find(batch.Crop) is not { } crop
            || Math.Abs(Math.Log(crop.Profile.HalfWarmHours.CelsiusHours / batch.HalfWarmHours)) > SameTable
            || Math.Abs(crop.Profile.Cardinals.Base.Celsius - batch.BaseCelsius) > SameBase)
        {
            return null;
        }

        return new(batch.Crop, RootAndShoot.Profile(crop, batch.Method, null), batch.Method, null)
        {
            Family = CropFamilies.Of(crop),
            Spot = batch.Spot,
            SeedYears = batch.SeedYears,
            PerBaseKelvin = batch.PerBaseKelvin,
        };
    }
}

/// <summary>One batch of a home.</summary>
/// <param name="Speed">What its looks have shown.</param>
/// <param name="Lot">Which lot of the home.</param>
/// <param name="Parts">Its factors.</param>
internal sealed record FitRow(Said Speed, int? Lot, Placed[] Parts);
