namespace Chamber.Core.Batches;

/// <summary>A look cannot be true; the message says why and what to do.</summary>
public sealed class LookRefusedException(DatedText text) : RefusedException(text);

/// <summary>Whether a look can be true of its batch.</summary>
public static class LookCheck
{
    /// <summary>Why a look cannot be added to a batch, or null when it can.</summary>
    /// <param name="batch">The batch with the looks so far.</param>
    /// <param name="look">The new look; it may lie between two older ones.</param>
    public static DatedText? WhyNot(Batch batch, Look look)
    {
        if (look.Up < 0)
        {
            return new($"{batch.Id}: {look.Up} up is impossible; a count starts at 0.");
        }

        if (look.Up > batch.Seeds)
        {
            return new($"{batch.Id}: more up ({look.Up}) than sown ({batch.Seeds}); correct the count, or the number of seeds of the batch.");
        }

        if (look.At < batch.SownAt)
        {
            return new($"{batch.Id}: the look at {look.At} lies before the sowing at {batch.SownAt}; correct one of the two times.");
        }

        return AgainstOthers(batch, look);
    }

    /// <exception cref="LookRefusedException">A look of the batch cannot be true.</exception>
    public static void RequireAll(Batch batch)
    {
        var soFar = batch with { Looks = [] };
        var last = (Look?)null;
        foreach (var look in batch.Looks)
        {
            var others = last is null ? soFar : soFar with { Looks = [last] };
            var refusal = last is not null && look.At < last.At
                ? new DatedText($"{batch.Id}: the look at {look.At} stands after the one at {last.At}; looks are kept in order of time.")
                : WhyNot(others, look);
            if (refusal is not null)
            {
                throw new LookRefusedException(refusal);
            }

            last = look;
        }
    }

    private static DatedText? AgainstOthers(Batch batch, Look look)
    {
        foreach (var other in batch.Looks)
        {
            if (other.At <= look.At && other.Up > look.Up)
            {
                return new($"{batch.Id}: {look.Up} up after {other.Up} were up at {other.At}: what has come up stays counted. Count those that died or were moved too, and record a loss as a loss.");
            }

            if (other.At > look.At && other.Up < look.Up)
            {
                return new($"{batch.Id}: {look.Up} up at {look.At}, but only {other.Up} at {other.At}, which is later: correct one of the two.");
            }
        }

        return null;
    }
}
