using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>Which checkpoints of a fold are kept: the longer ago, the further apart, so that a few reach back for weeks. What comes late is
/// mostly a little late, and what comes very late may cost twice as much.</summary>
internal static class CheckpointSpacing
{
    /// <summary>Lets go those without which the next older one lies no more than twice as far back as the next newer one.</summary>
    /// <param name="checkpoints">In order of time; the newest stays.</param>
    /// <param name="at">Up to where each is folded.</param>
    /// <param name="max">So many are kept at most; the oldest goes first.</param>
    public static void Thin<T>(List<T> checkpoints, Func<T, Moment> at, int max)
    {
        var newest = at(checkpoints[^1]);
        for (var i = checkpoints.Count - 2; i > 0; i--)
        {
            if (newest - at(checkpoints[i - 1]) <= 2 * (newest - at(checkpoints[i + 1])))
            {
                checkpoints.RemoveAt(i);
            }
        }

        if (checkpoints.Count > max)
        {
            checkpoints.RemoveAt(0);
        }
    }
}
