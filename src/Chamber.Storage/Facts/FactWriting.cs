using Chamber.Core;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Storage.Facts;

/// <summary>Others wrote down something at the same moment each time that this was tried; nothing of it was written.</summary>
public sealed class FactConflictException(int tries) : RefusedException(
    new DatedText($"Others were writing at the same moment, {tries} times in a row. Look at what they wrote, then do it again."));

/// <summary>Writes down through the seam: reads what is known, judges by the fold, and appends with the number that it expects.</summary>
public static class FactWriting
{
    /// <summary>So often a conflict is folded again before it is told.</summary>
    public const int TriesMax = 5;

    /// <summary>Writes facts down in one act. Where somebody else has written meanwhile, all is judged again by what is known
    /// then.</summary>
    /// <param name="store">Where.</param>
    /// <param name="by">Who writes, and by which way.</param>
    /// <param name="now">When.</param>
    /// <param name="ask">From what is known to the facts, in an order in which each can stand after the one before. None writes
    /// nothing.</param>
    /// <param name="cancel">Ends the wait; nothing is written then.</param>
    /// <returns>All that is written down then.</returns>
    /// <exception cref="FactRefusedException">One of them cannot be true beside what is known; nothing was written.</exception>
    /// <exception cref="FactConflictException">Others were writing all the time.</exception>
    public static async ValueTask<FactLog> WriteAsync(
        this IHomeStore store, Author by, Instant now, Func<FactLog, IReadOnlyList<DatedFact>> ask, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(ask);
        var known = FactLog.Of(await store.FactsSinceAsync(0, cancel));
        for (var tries = 1; ; tries++)
        {
            var next = known.With(Entries(known, by, now, ask(known)));
            if (next.Entries.Count == known.Entries.Count
                || await store.TryAppendAsync([.. next.Entries.Skip(known.Entries.Count)], cancel))
            {
                return next;
            }

            if (tries == TriesMax)
            {
                throw new FactConflictException(tries);
            }

            known = FactLog.Of([.. known.Entries, .. await store.FactsSinceAsync(known.Last, cancel)]);
        }
    }

    private static List<FactEntry> Entries(FactLog known, Author by, Instant now, IReadOnlyList<DatedFact> facts)
    {
        var first = known.Last + 1;
        return [.. facts.Select((fact, i) => FactJson.AsKept(new(first + i, first, fact.Fact, fact.At, now, by)))];
    }
}
