using Chamber.Core.Batches;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Statistics;
using NodaTime;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>
/// What this home's batches have taught about θ50: ln θ50 of a batch = ln θ50 of the table + home + crop + method + lot + its own
/// straying. Every factor is drawn toward its prior, the more the fewer batches stand behind it. Relearned from all looks each time;
/// the same batches always give the same answer.
/// </summary>
public sealed class HomeKnowledge
{
    /// <summary>The sites settle in a few rounds; this bounds a home whose batches contradict one another.</summary>
    private const int RoundsMax = 12;

    private const double Settled = 1e-4;

    /// <summary>Fewer batches tell nothing of how far they stray, or how far lots, methods and crops lie apart.</summary>
    private const int StrayingMin = 8;
    private const int StrayingRounds = 3;

    /// <summary>What batches say hardly changes with the variances, so a second round changes little.</summary>
    private const int VarianceRounds = 2;

    /// <summary>With fewer of a kind nobody can see how far they lie apart, and nothing is said of it.</summary>
    private const int OfAKindMin = 3;

    private readonly FactorField factors;
    private readonly Dictionary<BatchId, BatchSite> sites;
    private readonly LotCounts lots;

    private readonly FactorPriors priors;

    private HomeKnowledge(FactorPriors priors)
    {
        (this.priors, factors, sites, lots) = (priors, new(), [], new());
    }

    /// <summary>A home without batches: only the priors.</summary>
    public static HomeKnowledge Nothing { get; } = new(FactorPriors.Assumed);

    /// <summary>What other homes' batches have taught; null for nothing.</summary>
    public SharedKnowledge? Others => priors.Others;

    /// <summary>By what the straying of this home's usual batches, as a variance, is multiplied beside what is assumed; 1 until there are
    /// eight.</summary>
    public double StrayingScale { get; private set; } = 1;

    /// <summary>How many batches stand behind it.</summary>
    public int Batches => sites.Count;

    /// <summary>What was learned, factor by factor: home, then methods, crops and lots, each by name. Method and crop are said together
    /// with the home's own factor.</summary>
    public IReadOnlyList<LearnedFactor> Learned =>
    [
        .. factors.Factors.Where(factor => !IsShape(factor) && factor.Kind != FactorKind.Shared)
            .OrderBy(factor => factor.Kind switch
            {
                FactorKind.Home => 0,
                FactorKind.Method => 1,
                FactorKind.Family => 2,
                FactorKind.Crop => 3,
                FactorKind.Spot => 4,
                FactorKind.Age => 5,
                _ => 6,
            })
            .ThenBy(factor => factor.Name, StringComparer.Ordinal)
            .Select(Say),
    ];

    /// <summary>What was learned of the bases and spreads of crops: those of which batches have taken a tenth of the doubt at
    /// least.</summary>
    public IReadOnlyList<LearnedShape> Shapes =>
    [
        .. factors.Factors.Where(IsShape)
            .OrderBy(factor => factor.Name, StringComparer.Ordinal).ThenBy(factor => factor.Kind)
            .Select(factor => LearnedShape.Of(factor, factors.SumOf([new Part(factor, 1), .. priors.SharedOf(factor)]), EvidenceOf(factor)))
            .OfType<LearnedShape>(),
    ];

    /// <summary>How far lots, methods and crops lie apart here, beside what is assumed: those of which there are three or more, from eight
    /// batches on.</summary>
    public IReadOnlyList<LearnedVariance> Variances =>
    [
        .. sites.Count < StrayingMin ? [] : VarianceGrid.Kinds
            .Select((kind, at) => (Kind: kind, Times: factors.Times[at], Of: factors.Factors.Count(factor => factor.Kind == kind)))
            .Where(one => one.Of >= OfAKindMin)
            .Select(one => LearnedVariance.Said(one.Kind, one.Times, sites.Values.Count(site =>
                priors.OwnOf(site.Evidence.Kind).Any(part => part.Factor.Kind == one.Kind)), one.Of, Others is not null)),
    ];

    private static bool IsShape(Factor factor) => factor.Kind is FactorKind.Base or FactorKind.Spread;

    private BatchEvidence[] EvidenceOf(Factor factor) => [.. sites.Values.Select(site => site.Evidence).Where(batch =>
        factor.Name == (factor.Kind == FactorKind.Base ? Factor.BaseOf(batch.Kind) : Factor.SpreadOf(batch.Kind)).Name)];

    /// <summary>The batches that look odd beside the others, each with the chance that it is: above one half.</summary>
    public IReadOnlyList<(BatchId Batch, double Chance)> OddBatches =>
        [.. sites.Values.Where(site => site.Odd > 0.5).Select(site => (site.Evidence.Id, site.Odd))];

    /// <summary>Learns from all batches of a home.</summary>
    /// <param name="batches">Every batch with at least one look counts; the others are left out.</param>
    /// <param name="now">The older a batch is by then, the less it says.</param>
    /// <param name="others">What other homes' batches have taught; null for nothing.</param>
    public static HomeKnowledge Learn(IEnumerable<BatchEvidence> batches, Instant now, SharedKnowledge? others = null) =>
        Learn(batches, now, withVariances: true, others);

    /// <summary>The same with the variances of lots, methods and crops as they are assumed, to compare with.</summary>
    internal static HomeKnowledge Learn(IEnumerable<BatchEvidence> batches, Instant now, bool withVariances,
        SharedKnowledge? others = null)
    {
        var knowledge = new HomeKnowledge(others is null ? FactorPriors.Assumed : new(others));
        foreach (var evidence in batches.Where(batch => batch.LastLookAt is not null).OrderBy(batch => batch.SownAt))
        {
            knowledge.Add(evidence, now);
        }

        knowledge.Settle();
        knowledge.LearnStraying();
        if (withVariances)
        {
            knowledge.LearnVariances();
        }

        return knowledge;
    }

    private void LearnVariances()
    {
        for (var round = 0; round < VarianceRounds && sites.Count >= StrayingMin; round++)
        {
            factors.Rescale(VarianceGrid.MeanTimes(factors.Factors, [.. sites.Values.Select(site => site.Said)]));
            Settle();
        }
    }

    /// <summary>Expectation and maximisation in turns (A.P. Dempster, N.M. Laird and D.B. Rubin, 1977), what is assumed counting as so many
    /// batches.</summary>
    private void LearnStraying()
    {
        for (var round = 0; round < StrayingRounds && sites.Count >= StrayingMin; round++)
        {
            StrayingScale = (HomePriors.StrayingWorth
                    + sites.Values.Sum(site => site.Straying.Usual * site.Straying.Share / priors.StrayingScale))
                / (HomePriors.StrayingWorth + sites.Values.Sum(site => site.Straying.Usual));
            foreach (var site in sites.Values)
            {
                site.StrayingScale = StrayingScale * priors.StrayingScale;
            }

            Settle();
        }
    }

    /// <summary>The warm-hours that half of a batch of some kind most likely needs here.</summary>
    /// <param name="kind">Its crop, method and lot.</param>
    /// <param name="except">A batch whose own looks are not to count.</param>
    public WarmHours HalfOf(BatchKind kind, BatchId? except = null) =>
        WarmHours.FromCelsiusHours(kind.Profile.HalfWarmHours.CelsiusHours * Math.Exp(FactorsOf(kind, except).Mean));

    /// <summary>What is believed of a batch of some kind before it is looked at.</summary>
    /// <param name="kind">Its crop, method and lot.</param>
    /// <param name="germinable">What is believed of its germinable share without this home's batches.</param>
    /// <param name="except">The batch itself, when it is among those learned from: its looks must not count twice.</param>
    public EmergencePrior PriorFor(BatchKind kind, ShareBelief germinable, BatchId? except = null)
    {
        var (mean, variance) = FactorsOf(kind, except);
        var spread = SpreadOf(kind, except);
        var centre = Math.Log(kind.Profile.HalfWarmHours.CelsiusHours) + mean;
        return new(
            [
                Term(1 - HomePriors.OddBatchShare, HomePriors.BatchDeviation, StrayingScale * priors.StrayingScale),
                Term(HomePriors.OddBatchShare, HomePriors.OddBatchDeviation, 1),
            ],
            new(1, Math.Log(kind.Profile.Spread) + spread.Mean,
                Math.Sqrt(spread.Variance + HomePriors.LogSpreadOfBatch * HomePriors.LogSpreadOfBatch)),
            lots.Sharpen(germinable, kind.Lot, except));

        NormalTerm Term(double weight, double deviation, double scale) =>
            new(weight, centre, Math.Sqrt(variance + scale * Math.Pow(priors.Straying(kind, deviation), 2)));
    }

    private (double Mean, double Variance) FactorsOf(BatchKind kind, BatchId? except) =>
        except is { } own && sites.TryGetValue(own, out var site) ? site.HalfWithout(priors.HalfOf(kind))
            : factors.SumOf(priors.HalfOf(kind));

    private (double Mean, double Variance) SpreadOf(BatchKind kind, BatchId? except) =>
        except is { } own && sites.TryGetValue(own, out var site) ? site.SpreadWithout()
            : factors.SumOf([new Part(Factor.SpreadOf(kind), 1)]);

    internal void Add(BatchEvidence evidence, Instant now)
    {
        var site = new BatchSite(evidence, factors, priors, now);
        sites.Add(evidence.Id, site);
        site.Refine();
        lots.Add(evidence, PriorFor(evidence.Kind, evidence.Germinable, evidence.Id));
    }

    /// <summary>Lets all batches speak in turns until nothing changes.</summary>
    internal void Settle()
    {
        for (var round = 1; round < RoundsMax && Refine() > Settled; round++)
        {
        }
    }

    private LearnedFactor Say(Factor factor)
    {
        var kinds = sites.Values.Select(site => site.Evidence.Kind)
            .Where(kind => priors.OwnOf(kind).Any(part => part.Factor == factor)).ToList();
        var name = factor.Kind == FactorKind.Crop ? kinds[0].CropName : factor.Name;
        return LearnedFactor.Of(factor, name, factors.SumOf(priors.PartsOf(kinds[0], AboutOf(factor.Kind))), kinds.Count);
    }

    // What is said of a crop is all that bears on it, its family's part too.
    private static FactorKind[] AboutOf(FactorKind kind) => kind switch
    {
        FactorKind.Home or FactorKind.Lot or FactorKind.Age => [kind],
        FactorKind.Crop => [FactorKind.Home, FactorKind.Family, FactorKind.Crop],
        _ => [FactorKind.Home, kind],
    };

    private double Refine() => sites.Values.Max(site => (double?)site.Refine()) ?? 0;
}
