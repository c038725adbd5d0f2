using Chamber.Core.Batches;
using Chamber.Core.Statistics;
using NodaTime;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>What was believed of a batch at its sowing by seed and spot alone.</summary>
/// <param name="Germinable">The share that comes up.</param>
/// <param name="PerBaseKelvin">What a higher base would do on the spot as it was known (<see cref="BatchKind.PerBaseKelvin"/>).</param>
public readonly record struct BelievedThen(ShareBelief Germinable, double PerBaseKelvin);

/// <summary>What was believed of each batch when it was sown: learned from those batches alone that had been looked at for the last time by
/// then.</summary>
public static class Hindsight
{
    /// <summary>The beliefs, in order of sowing.</summary>
    /// <param name="batches">Every batch with its looks; one without any teaches nothing but has its own belief.</param>
    /// <param name="believed">What was believed at its sowing, without this home's batches.</param>
    public static IEnumerable<(BatchEvidence Batch, EmergencePrior Prior)> Priors(IReadOnlyCollection<BatchEvidence> batches,
        Func<BatchEvidence, BelievedThen> believed) => Known(batches).Select(each => (each.Batch, Prior(each, believed)));

    /// <summary>The belief for one of them; null when it is not among them.</summary>
    /// <inheritdoc cref="Priors"/>
    public static EmergencePrior? PriorOf(BatchId batch, IReadOnlyCollection<BatchEvidence> batches,
        Func<BatchEvidence, BelievedThen> believed) =>
        Known(batches).Where(each => each.Batch.Id == batch).Select(each => Prior(each, believed)).FirstOrDefault();

    private static EmergencePrior Prior((BatchEvidence Batch, HomeKnowledge Knowledge) each, Func<BatchEvidence, BelievedThen> believed)
    {
        var then = believed(each.Batch);
        return each.Knowledge.PriorFor(each.Batch.Kind with { PerBaseKelvin = then.PerBaseKelvin }, then.Germinable);
    }

    // One knowledge that grows from batch to batch: what is asked of it must be asked before the next is taken.
    private static IEnumerable<(BatchEvidence Batch, HomeKnowledge Knowledge)> Known(IReadOnlyCollection<BatchEvidence> batches)
    {
        var knowledge = HomeKnowledge.Learn([], default);
        var done = new Queue<BatchEvidence>(batches.Where(batch => batch.LastLookAt is not null).OrderBy(batch => batch.LastLookAt));
        foreach (var batch in batches.OrderBy(batch => batch.SownAt))
        {
            if (Take(knowledge, done, batch.SownAt))
            {
                knowledge.Settle();
            }

            yield return (batch, knowledge);
        }
    }

    private static bool Take(HomeKnowledge knowledge, Queue<BatchEvidence> done, Instant until)
    {
        var any = false;
        while (done.TryPeek(out var next) && next.LastLookAt <= until)
        {
            done.Dequeue();
            knowledge.Add(next, until);
            any = true;
        }

        return any;
    }
}
