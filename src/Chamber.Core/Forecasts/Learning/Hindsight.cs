using Chamber.Core.Batches;
using Chamber.Core.Statistics;
using NodaTime;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>What was believed of each batch when it was sown: learned from those batches alone that had been looked at for the last time by
/// then.</summary>
public static class Hindsight
{
    /// <summary>The beliefs, in order of sowing.</summary>
    /// <param name="batches">Every batch with its looks; one without any teaches nothing but has its own belief.</param>
    /// <param name="believed">What was believed at its sowing of the share that comes up, without this home's batches.</param>
    public static IEnumerable<(BatchEvidence Batch, EmergencePrior Prior)> Priors(IReadOnlyCollection<BatchEvidence> batches,
        Func<BatchEvidence, ShareBelief> believed) =>
        Known(batches).Select(each => (each.Batch, each.Knowledge.PriorFor(each.Batch.Kind, believed(each.Batch))));

    /// <summary>The belief for one of them; null when it is not among them.</summary>
    /// <inheritdoc cref="Priors"/>
    public static EmergencePrior? PriorOf(BatchId batch, IReadOnlyCollection<BatchEvidence> batches,
        Func<BatchEvidence, ShareBelief> believed) =>
        Known(batches).Where(each => each.Batch.Id == batch).Select(each => each.Knowledge.PriorFor(each.Batch.Kind, believed(each.Batch)))
            .FirstOrDefault();

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
