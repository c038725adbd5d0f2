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

    /// <summary>Why so many seeds cannot be sown from a lot, or null when they can.</summary>
    public static string? Refuse(Lot lot, int left, int seeds) => seeds <= left
        ? null
        : $"lot {lot.Id} has {(left == 0 ? "run out" : $"{left} {(left == 1 ? "seed" : "seeds")} left")}, so {seeds} cannot be sown: sow "
            + $"fewer, or count again and correct the lot.";
}
