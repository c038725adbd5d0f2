using Chamber.Core.Batches;
using Chamber.Core.Seeds;
using Chamber.Core.Statistics;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>What the batches of a lot have shown about its germinable share, in seeds' worth.</summary>
internal sealed class LotCounts
{
    /// <summary>Batches of one lot differ by more than chance (depth, damp, mould), so each seed counts for half a seed
    /// elsewhere.</summary>
    private const double WeightElsewhere = 0.5;

    private readonly Dictionary<LotId, List<(BatchId Batch, double Good, double Bad)>> lots = [];

    public void Add(BatchEvidence evidence, EmergencePrior known)
    {
        if (evidence.Kind.Lot is not { } lot || evidence.LastLookAt is null)
        {
            return;
        }

        var (mean, deviation) = EmergenceBelief.After(known with { Germinable = evidence.Germinable }, evidence.Seen).Germinable;

        // The beta distribution with the same mean and deviation; what it has more than the prior is what the looks have shown.
        var weight = mean * (1 - mean) / Math.Max(deviation * deviation, 1e-9) - 1;
        if (!lots.TryGetValue(lot, out var counts))
        {
            lots[lot] = counts = [];
        }

        counts.Add((
            evidence.Id,
            Math.Clamp(mean * weight - evidence.Germinable.Good, 0, evidence.Seen.Seeds),
            Math.Clamp((1 - mean) * weight - evidence.Germinable.Bad, 0, evidence.Seen.Seeds)));
    }

    /// <summary>A belief about a share of a lot's seeds, with what its other batches have shown.</summary>
    public ShareBelief Sharpen(ShareBelief belief, LotId? lot, BatchId? except)
    {
        if (lot is not { } known || !lots.TryGetValue(known, out var counts))
        {
            return belief;
        }

        var others = counts.Where(count => except is null || count.Batch != except.Value).ToArray();
        return new(
            belief.Good + WeightElsewhere * others.Sum(count => count.Good),
            belief.Bad + WeightElsewhere * others.Sum(count => count.Bad));
    }
}
