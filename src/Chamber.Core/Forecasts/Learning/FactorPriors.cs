namespace Chamber.Core.Forecasts.Learning;

/// <summary>
/// Which factors a batch has, and what is believed of each before this home has taught anything: as it is assumed of any home, or as other
/// homes' batches have taught. With those, a factor is what homes share, and on top of it what this home differs by.
/// </summary>
/// <param name="others">What other homes' batches have taught; null for nothing.</param>
internal sealed class FactorPriors(SharedKnowledge? others)
{
    public static FactorPriors Assumed { get; } = new(null);

    public SharedKnowledge? Others => others;

    /// <summary>By what the variance of a usual batch's straying is multiplied beside what is assumed.</summary>
    public double StrayingScale { get; } = others is null ? 1
        : others.BatchDeviation * others.BatchDeviation / HomePriors.BatchDeviation / HomePriors.BatchDeviation;

    /// <summary>What this home differs by, for one kind of batch: home, family, crop, method and, where they are known, lot, kind of spot
    /// and age of seed.</summary>
    public IEnumerable<Part> OwnOf(BatchKind kind) => others is null ? Factor.Of(kind).Select(factor => new Part(factor, 1))
        : [.. Factor.Of(kind).Where(factor => factor.Kind != FactorKind.Family || !Knows(factor))
                .Select(factor => new Part(Own(factor), 1)),
            .. SharedOnly(kind).Where(part => Knows(part.Factor)).Select(part => part with { Factor = Own(part.Factor) })];

    /// <summary>What adds up to ln θ50 of a batch beside the table.</summary>
    public Part[] HalfOf(BatchKind kind) => others is null ? Factor.HalfOf(kind)
        : [.. OwnOf(kind),
            .. kind.PerBaseKelvin == 0 ? Array.Empty<Part>() : [new(Own(Factor.BaseOf(kind)), kind.PerBaseKelvin)],
            .. others.PartsOf(TermsOf(kind))];

    /// <summary>The factors of some kinds that a batch has, once each: what this home differs by, and what homes share.</summary>
    public Part[] PartsOf(BatchKind kind, FactorKind[] about) =>
    [
        .. OwnOf(kind).Where(part => about.Contains(part.Factor.Kind)).Select(part => part with { Times = 1 }),
        .. others?.PartsOf(TermsOf(kind).Where(term => about.Contains(term.Kind)).Select(term => term with { Times = 1 })) ?? [],
    ];

    /// <summary>What other homes have taught of one factor, to be added to what this home differs by.</summary>
    public Part[] SharedOf(Factor factor) => others?.PartsOf([(factor.Kind, factor.Name, 1)]) ?? [];

    /// <summary>How far a batch lies from its factors, ln θ: where nobody wrote the lot down, that too.</summary>
    /// <param name="kind">Its kind.</param>
    /// <param name="own">What the batch strays by of itself.</param>
    public double Straying(BatchKind kind, double own)
    {
        var lots = kind.Lot is not null ? 0 : others?.Apart(FactorKind.Lot) ?? HomePriors.LotDeviation;
        return Math.Sqrt(own * own + lots * lots);
    }

    /// <summary>The terms of a batch that homes share, with how many times each counts.</summary>
    public static IEnumerable<(FactorKind Kind, string Name, double Times)> TermsOf(BatchKind kind) =>
    [
        .. AllOf(kind).Where(part => part.Factor.Kind != FactorKind.Lot)
            .Select(part => (part.Factor.Kind, part.Factor.Name, part.Times)),
    ];

    /// <summary>Every factor of a batch as it is assumed, the ones that only many homes together can learn among them.</summary>
    public static IEnumerable<Part> AllOf(BatchKind kind) => [.. Factor.HalfOf(kind), .. SharedOnly(kind)];

    // One home has too few kinds of spot and ages of seed to tell them from its crops and lots.
    private static IEnumerable<Part> SharedOnly(BatchKind kind)
    {
        if (kind.Spot is { } spot)
        {
            yield return new(new(FactorKind.Spot, spot.ToString(), 0, TogetherPriors.SpotDeviation), 1);
        }

        if (kind.SeedYears is { } years)
        {
            yield return new(new(FactorKind.Age, "years", 0, TogetherPriors.AgeDeviation), years);
        }
    }

    private bool Knows(Factor factor) => others!.Knows(factor.Kind, factor.Name);

    // Of what nobody knows all that is assumed stays.
    private Factor Own(Factor factor) => factor.Kind == FactorKind.Lot || Knows(factor)
        ? factor with { PriorMean = 0, PriorDeviation = others!.Apart(factor.Kind) } : factor;
}
