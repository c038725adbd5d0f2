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
    /// <summary>A batch that is added has its say at once. What it changes in the say of the others is worked out when one in so many is
    /// new: with each while there are fewer; to years of batches one more changes next to nothing.</summary>
    private const int SettledOf = 64;

    /// <summary>The beliefs, in order of sowing.</summary>
    /// <param name="batches">Every batch with its looks; one without any teaches nothing but has its own belief.</param>
    /// <param name="believed">What was believed at its sowing, without this home's batches.</param>
    public static IEnumerable<(BatchEvidence Batch, EmergencePrior Prior)> Priors(IReadOnlyCollection<BatchEvidence> batches,
        Func<BatchEvidence, BelievedThen> believed) => Known(batches).Select(each => (each.Batch, Prior(each, believed)));

    /// <summary>The beliefs for some of them; none for one that is not among them.</summary>
    /// <param name="batches">Every batch.</param>
    /// <param name="wanted">Which ones.</param>
    /// <param name="believed">What was believed at the sowing of one, without this home's batches.</param>
    public static IReadOnlyDictionary<BatchId, EmergencePrior> PriorsOf(IReadOnlySet<BatchId> wanted,
        IReadOnlyCollection<BatchEvidence> batches, Func<BatchEvidence, BelievedThen> believed) =>
        Known(batches).Where(each => wanted.Contains(each.Batch.Id)).Take(wanted.Count)
            .ToDictionary(each => each.Batch.Id, each => Prior(each, believed));

    private static EmergencePrior Prior((BatchEvidence Batch, HomeKnowledge Knowledge) each, Func<BatchEvidence, BelievedThen> believed)
    {
        var then = believed(each.Batch);
        return each.Knowledge.PriorFor(each.Batch.Kind with { PerBaseKelvin = then.PerBaseKelvin }, then.Germinable);
    }

    // One knowledge that grows from batch to batch: what is asked of it must be asked before the next is taken.
    private static IEnumerable<(BatchEvidence Batch, HomeKnowledge Knowledge)> Known(IReadOnlyCollection<BatchEvidence> batches)
    {
        var knowledge = HomeKnowledge.Learn([], default);
        var settled = 0;
        var done = new Queue<BatchEvidence>(batches.Where(batch => batch.LastLookAt is not null).OrderBy(batch => batch.LastLookAt));
        foreach (var batch in batches.OrderBy(batch => batch.SownAt))
        {
            Take(knowledge, done, batch.SownAt);
            if (knowledge.Batches > settled + settled / SettledOf)
            {
                knowledge.Settle();
                settled = knowledge.Batches;
            }

            yield return (batch, knowledge);
        }
    }

    private static void Take(HomeKnowledge knowledge, Queue<BatchEvidence> done, Instant until)
    {
        while (done.TryPeek(out var next) && next.LastLookAt <= until)
        {
            done.Dequeue();
            knowledge.Add(next, until);
        }
    }
}
