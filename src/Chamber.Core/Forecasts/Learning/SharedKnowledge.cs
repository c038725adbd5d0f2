namespace Chamber.Core.Forecasts.Learning;

/// <summary>One thing that the batches of many homes have taught, beside the table.</summary>
/// <param name="Kind">What it is about.</param>
/// <param name="Name">Which crop, method or kind of spot.</param>
/// <param name="Mean">What it adds to ln of the warm-hours in a home that lies in the middle; for a base, K.</param>
/// <param name="Deviation">The standard deviation of that.</param>
/// <param name="Homes">How many homes had a batch of it.</param>
/// <param name="MovedByOne">By how much one home can have moved the mean at most, whatever it said.</param>
public sealed record SharedFactor(FactorKind Kind, string Name, double Mean, double Deviation, int Homes, double MovedByOne)
{
    /// <summary>What people call it.</summary>
    public string ShownName { get => field ?? Name; init; }

    /// <summary>The family of a crop, which shares a part with it; null for another factor.</summary>
    public string? Family { get; init; }
}

/// <summary>
/// What the batches of other homes have taught: what crops, methods, kinds of spot and seed ages really do, and how far homes, lots and
/// batches lie apart in it. A home that has sown nothing starts from here.
/// </summary>
public sealed class SharedKnowledge
{
    private readonly Dictionary<(FactorKind, string), int> places;
    private readonly double[,] root;
    private readonly double[] centre;
    private readonly IReadOnlyDictionary<FactorKind, double> apart;

    /// <param name="factors">What was learned.</param>
    /// <param name="root">The lower triangle L of their covariance L·Lᵀ.</param>
    /// <param name="apart">By how much homes lie apart in each kind, as standard deviations; those of lots too.</param>
    internal SharedKnowledge(IReadOnlyList<SharedFactor> factors, double[,] root, IReadOnlyDictionary<FactorKind, double> apart)
    {
        (Factors, this.root, this.apart) = (factors, root, apart);
        places = factors.Select((factor, at) => (factor, at)).ToDictionary(each => (each.factor.Kind, each.factor.Name), each => each.at);
        centre = Solve(root, [.. factors.Select(factor => factor.Mean)]);
    }

    /// <summary>The same from numbers that were kept.</summary>
    /// <exception cref="FormatException">They do not fit together.</exception>
    public static SharedKnowledge Of(SharedNumbers kept)
    {
        ArgumentNullException.ThrowIfNull(kept);
        var count = kept.Factors.Count;
        if (kept.Root.Count != count || kept.Root.Index().Any(row => row.Item.Count != row.Index + 1 || !(row.Item[^1] > 0)))
        {
            throw new FormatException("What was learned together is kept in another form: learn it again.");
        }

        var root = new double[count, count];
        foreach (var (row, numbers) in kept.Root.Index())
        {
            foreach (var (column, number) in numbers.Index())
            {
                root[row, column] = number;
            }
        }

        return new(kept.Factors, root, kept.Apart)
        {
            Homes = kept.Homes, Batches = kept.Batches, BatchDeviation = kept.BatchDeviation,
        };
    }

    /// <summary>As numbers, to be kept.</summary>
    public SharedNumbers ToNumbers() => new(Factors,
        [.. Enumerable.Range(0, Factors.Count).Select(row => Enumerable.Range(0, row + 1).Select(column => root[row, column]).ToArray())],
        apart, Homes, Batches, BatchDeviation);

    /// <summary>How many homes' batches it comes from.</summary>
    public int Homes { get; init; }

    /// <summary>How many batches.</summary>
    public int Batches { get; init; }

    /// <summary>How far one batch lies from what its factors say, as a standard deviation of ln of the warm-hours.</summary>
    public double BatchDeviation { get; init; } = HomePriors.BatchDeviation;

    /// <summary>What was learned, factor by factor.</summary>
    public IReadOnlyList<SharedFactor> Factors { get; }

    /// <summary>The same in words: crops, methods, kinds of spot and ages of seed.</summary>
    public IReadOnlyList<LearnedElsewhere> Learned =>
    [
        .. Factors.Where(factor => factor.Kind is FactorKind.Crop or FactorKind.Method or FactorKind.Spot or FactorKind.Age)
            .OrderBy(factor => factor.Kind switch { FactorKind.Method => 0, FactorKind.Spot => 1, FactorKind.Age => 2, _ => 3 })
            .ThenBy(factor => factor.Name, StringComparer.Ordinal)
            .Select(factor => LearnedElsewhere.Of(factor, SumOf(About(factor)))),
    ];

    /// <summary>How far homes lie apart in a kind, or lots in a home, as a standard deviation of ln of the warm-hours.</summary>
    public double Apart(FactorKind kind) => apart[kind];

    internal bool Knows(FactorKind kind, string name) => places.ContainsKey((kind, name));

    /// <summary>
    /// A sum of what was learned as independent parts: with L of the covariance, each factor is a sum of as many standard normal ones as
    /// there are factors, so that a home's own arithmetic needs no covariance between priors. What nobody knows is passed over.
    /// </summary>
    internal Part[] PartsOf(IEnumerable<(FactorKind Kind, string Name, double Times)> sum)
    {
        var times = new double[centre.Length];
        foreach (var (kind, name, count) in sum)
        {
            if (places.TryGetValue((kind, name), out var row))
            {
                for (var column = 0; column <= row; column++)
                {
                    times[column] += count * root[row, column];
                }
            }
        }

        return [.. times.Select((count, at) => (count, at)).Where(part => part.count != 0)
            .Select(part => new Part(new(FactorKind.Shared, $"{part.at}", centre[part.at], 1), part.count))];
    }

    // A crop is said with what all homes and its family share, as at home.
    private static IEnumerable<(FactorKind, string, double)> About(SharedFactor factor)
    {
        yield return (factor.Kind, factor.Name, 1);
        if (factor.Kind != FactorKind.Age)
        {
            yield return (FactorKind.Home, "home", 1);
        }

        if (factor.Family is { } family)
        {
            yield return (FactorKind.Family, family, 1);
        }
    }

    private (double Mean, double Variance) SumOf(IEnumerable<(FactorKind, string, double)> sum)
    {
        var parts = PartsOf(sum);
        return (parts.Sum(part => part.Times * part.Factor.PriorMean), parts.Sum(part => part.Times * part.Times));
    }

    private static double[] Solve(double[,] root, double[] right)
    {
        var result = new double[right.Length];
        for (var i = 0; i < right.Length; i++)
        {
            var rest = right[i];
            for (var j = 0; j < i; j++)
            {
                rest -= root[i, j] * result[j];
            }

            result[i] = rest / root[i, i];
        }

        return result;
    }
}

/// <summary>What was learned together as numbers.</summary>
/// <param name="Factors">What was learned, factor by factor.</param>
/// <param name="Root">The lower triangle L of their covariance L·Lᵀ, row by row.</param>
/// <param name="Apart">How far homes lie apart in each kind.</param>
/// <param name="Homes">How many homes.</param>
/// <param name="Batches">How many batches.</param>
/// <param name="BatchDeviation">How far one batch lies from what its factors say.</param>
public sealed record SharedNumbers(IReadOnlyList<SharedFactor> Factors, IReadOnlyList<IReadOnlyList<double>> Root,
    IReadOnlyDictionary<FactorKind, double> Apart, int Homes, int Batches, double BatchDeviation);
