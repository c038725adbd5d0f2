using Chamber.Core.Batches;
using Chamber.Core.Statistics;
using Chamber.Core.Water;

namespace Chamber.Core.Forecasts;

/// <summary>Dryness or the lot, from the warm-hours that a batch had with its dry times and would have had without.</summary>
public static class DryEvidence
{
    /// <summary>Judges the count of a look.</summary>
    /// <param name="batch">The batch.</param>
    /// <param name="look">The look.</param>
    /// <param name="prior">What was believed of the batch before.</param>
    /// <param name="damp">Its warm-hours as if it had been damp throughout, up to the look.</param>
    /// <param name="sound">What is believed of a sound lot.</param>
    /// <param name="dryTimes">When it lay dry, up to the look.</param>
    public static DryOrOld Of(Batch batch, Look look, EmergencePrior prior, WarmthCourse damp, ShareBelief sound,
        IReadOnlyList<DryTime> dryTimes)
    {
        ArgumentNullException.ThrowIfNull(batch);
        ArgumentNullException.ThrowIfNull(look);
        ArgumentNullException.ThrowIfNull(prior);
        ArgumentNullException.ThrowIfNull(damp);

        // The doubt of the batch's own pace spreads when seed is due, as its seeds' own spread does.
        var (half, doubt) = prior.LogHalfMoments();
        var curve = new EmergenceCurve(half, Math.Sqrt(Math.Exp(2 * prior.LogSpread.Mean) + doubt * doubt), 1);
        var dry = damp.Slowed(dryTimes);
        return DryOrOld.Of(
            new(look.Up, batch.Seeds), sound, curve.UpBy(dry.At(look.At)), curve.UpBy(damp.At(look.At)));
    }
}
