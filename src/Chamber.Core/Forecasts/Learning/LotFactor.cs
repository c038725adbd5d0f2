namespace Chamber.Core.Forecasts.Learning;

/// <summary>
/// The factor of one lot, given those that it is spoken of with: a batch has one lot, so no two lots are spoken of together, and each is
/// normal about what the others leave to it. Kept so, years of lots make the arithmetic of all other factors no dearer.
/// </summary>
/// <param name="mean">What is believed of it before anything is said.</param>
/// <param name="variance">The variance of that.</param>
internal sealed class LotFactor(double mean, double variance)
{
    // Precision and precision times mean, and by how much each other factor, by its slot, takes from the latter.
    private double precision = 1 / variance;
    private double pull = mean / variance;
    private Placed[] beside = [];

    /// <summary>A sum of other factors and so many times this one, with this one integrated out.</summary>
    public FactorSum In(Placed[] others, double times)
    {
        var share = -times / precision;
        var terms = new Placed[beside.Length + others.Length];
        for (var i = 0; i < beside.Length; i++)
        {
            terms[i] = beside[i] with { Times = beside[i].Times * share };
        }

        return new(Added(terms, beside.Length, others, 1), times * pull / precision, times * times / precision);
    }

    /// <summary>Takes in what is said of a sum of other factors and so many times this one.</summary>
    public void Learn(Placed[] others, double times, double said, double saidTimesMean)
    {
        precision += said * times * times;
        pull += saidTimesMean * times;
        var terms = new Placed[beside.Length + others.Length];
        beside.CopyTo(terms, 0);
        beside = Added(terms, beside.Length, others, said * times);
    }

    // The first terms and others so many times, each slot once.
    private static Placed[] Added(Placed[] terms, int count, Placed[] others, double times)
    {
        foreach (var (slot, often) in others)
        {
            var at = 0;
            while (at < count && terms[at].Place != slot)
            {
                at++;
            }

            terms[at] = new(slot, often * times + (at < count ? terms[at].Times : 0));
            count = Math.Max(count, at + 1);
        }

        return count == terms.Length ? terms : terms[..count];
    }
}
