using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Forecasts.Together;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Core.Tests.Forecasts.Learning;
using MathNet.Numerics.Distributions;

namespace Chamber.Core.Tests.Forecasts.Together;

/// <summary>
/// Homes whose common truth lies elsewhere than the tables, and that differ from one another by less or more than is assumed. Everything is
/// drawn from a seed; nothing is published.
/// </summary>
/// <param name="random">What draws.</param>
/// <param name="asAssumed">Whether the tables are right and homes differ as is assumed.</param>
internal sealed class SimulatedHomes(Random random, bool asAssumed = false)
{
    private static readonly string[] Crops =
        ["tomato", "pepper-sweet", "basil", "lettuce", "cabbage", "onion", "kale", "beet", "parsley", "celery", "spinach", "leek"];

    private static readonly SpotKind[] Spots = [SpotKind.HeatMat, SpotKind.Sill, SpotKind.BoilerCupboard, SpotKind.Shelf];

    private readonly Dictionary<(FactorKind, string), double> middle = [];
    private int homes;

    /// <summary>What homes share in truth, ln of the warm-hours.</summary>
    public IReadOnlyDictionary<(FactorKind Kind, string Name), double> Middle => middle;

    /// <summary>A home with so many ended batches, and what it gives.</summary>
    public HomeExperience Give(int batches)
    {
        var home = New();
        return ExperienceGiving.Of(Name(), Enumerable.Range(0, batches).Select(_ => home.Sow(Kind(), straying: Straying()).Evidence),
            CropCatalog.Shipped);
    }

    /// <summary>A first batch of a home that has sown nothing yet, with the truth of it.</summary>
    public (BatchKind Kind, double LogHalf) First()
    {
        var home = New();
        var kind = Kind();
        return (kind, home.LogHalf(kind) + Straying());
    }

    /// <summary>A name that no home has yet.</summary>
    public string Name() => $"{++homes:x32}";

    private SimulatedHome New() => new(random, draw: factor => Shared(factor) + Normal.Sample(random, 0, Apart(factor.Kind)));

    private double Shared(Factor factor) => factor.Kind is FactorKind.Lot or FactorKind.Spread ? 0
        : middle.TryGetValue((factor.Kind, factor.Name), out var value) ? value
        : middle[(factor.Kind, factor.Name)] = asAssumed ? 0 : factor.Kind switch
        {
            FactorKind.Home => 0.12,
            FactorKind.Crop => Normal.Sample(random, 0, 0.35),
            FactorKind.Method => factor.Name == nameof(SowingMethod.OpenMix) ? -0.15 : 0.05,
            FactorKind.Spot => Normal.Sample(random, 0, 0.15),
            FactorKind.Age => 0.05,
            _ => 0,
        };

    private double Apart(FactorKind kind) => kind switch
    {
        FactorKind.Spread => HomePriors.LogSpreadByCrop,
        _ when asAssumed => FitOptions.Assumed.GetValueOrDefault(kind),
        FactorKind.Home => 0.08,
        FactorKind.Crop => 0.06,
        FactorKind.Method or FactorKind.Spot => 0.04,
        FactorKind.Age => 0.008,
        FactorKind.Lot => 0.14,
        _ => 0,
    };

    private double Straying() => Normal.Sample(random, 0,
        random.NextDouble() < HomePriors.OddBatchShare ? HomePriors.OddBatchDeviation : asAssumed ? HomePriors.BatchDeviation : 0.1);

    // A home has up to three lots of a crop: fresh, two and four years old.
    private BatchKind Kind()
    {
        var crop = Some.Crop(Crops[random.Next(Crops.Length)]);
        var (method, lot) = (random.Next(3) == 0 ? SowingMethod.OpenMix : SowingMethod.CoveredMix, random.Next(3));
        return new(crop.Id, crop.Profile, method, new LotId($"{crop.Id}-{lot}"))
        {
            CropName = crop.CommonName,
            Family = CropFamilies.Of(crop),
            Spot = Spots[random.Next(Spots.Length)],
            SeedYears = lot * 2,
        };
    }
}
