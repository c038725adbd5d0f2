using Chamber.Core.Seeds;

namespace Chamber.Core.Batches;

/// <summary>How many seeds of a lot are left: what was there at the last count, less what was sown and tested since.</summary>
public static class LotStock
{
    /// <summary>Seeds left; never below 0, since a grower who sows more than was counted has counted wrong.</summary>
    /// <param name="lot">The lot.</param>
    /// <param name="batches">Batches of any lot; others are passed over.</param>
    /// <param name="tests">Tests of any lot; one that was run as a batch is counted as that batch.</param>
    public static int SeedsLeft(Lot lot, IEnumerable<Batch> batches, IEnumerable<LotTest> tests)
    {
        ArgumentNullException.ThrowIfNull(lot);
        var sown = batches.Where(batch => batch.Lot == lot.Id && batch.SownAt >= lot.CountedAt).Sum(batch => batch.Seeds);
        var tested = tests.Where(test => test.Lot == lot.Id && test.Batch is null && test.StartedAt >= lot.CountedAt)
            .Sum(test => test.Seeds);
        return Math.Max(0, lot.Counted - sown - tested);
    }

    /// <summary>That more seeds are taken from a lot than are left of it by its count; null when they aren't.</summary>
    /// <param name="lot">The lot.</param>
    /// <param name="left">How many are left without them.</param>
    /// <param name="seeds">How many are taken.</param>
    public static string? Warn(Lot lot, int left, int seeds)
    {
        ArgumentNullException.ThrowIfNull(lot);
        return seeds <= left ? null
            : $"By its count lot {lot.Id} {(left == 0 ? "had run out" : $"had only {left} {(left == 1 ? "seed" : "seeds")} left")}, and {seeds} "
                + $"{(seeds == 1 ? "is" : "are")} taken from it: correct the number, or count the lot again: chamber lot count {lot.Id} N";
    }
}
