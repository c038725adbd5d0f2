using Chamber.Core;
using Chamber.Core.Facts;
using Chamber.Storage.Facts;
using NodaTime;

namespace Chamber.Storage.Writing;

/// <summary>Others wrote down something at the same moment each time that this was tried; nothing of it was written.</summary>
public sealed class FactConflictException(int tries) : RefusedException(
    new DatedText($"Others were writing at the same moment, {tries} times in a row. Look at what they wrote, then do it again."));

/// <summary>Writes down through the seam: reads what is known, judges by the fold, and appends with the number that it expects. Where
/// somebody else has written meanwhile, all is asked and judged again by what is known then.</summary>
/// <remarks>Each returns the entries that were written. Each throws <see cref="RefusedException"/> when one of them cannot be true beside
/// what is known, and <see cref="FactConflictException"/> when others write all the time; then nothing was written.</remarks>
public static class FactWriting
{
    /// <summary>So often a conflict is folded again before it is told.</summary>
    public const int TriesMax = 5;

    /// <summary>Writes facts down in one act.</summary>
    /// <param name="store">Where.</param>
    /// <param name="by">Who writes, and by which way.</param>
    /// <param name="now">When.</param>
    /// <param name="ask">From the home as it is known to the facts, in an order in which each can stand after the one before. None writes
    /// nothing.</param>
    /// <param name="cancel">Ends the wait; nothing is written then.</param>
    public static ValueTask<IReadOnlyList<FactEntry>> WriteAsync(this IHomeStore store, Author by, Instant now,
        Func<HomeState, IReadOnlyList<DatedFact>> ask, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(ask);
        return TriedAsync(store, async () =>
        {
            var (last, home) = await store.HomeAsync(cancel);
            var entries = Entries(last, by, now, ask(home));
            return entries.Exists(entry => entry.Fact is Withdrawn or Corrected)
                ? Amended(FactLog.Of(await store.FactsSinceAsync(0, cancel)), entries)
                : new(entries, home, home.Apply(entries.Select(entry => entry.Fact.At(entry.At))), null);
        }, cancel);
    }

    /// <summary>Writes down in one act what follows from all that was written before, such as that an entry of it is wrong.</summary>
    /// <param name="store">Where.</param>
    /// <param name="by">Who writes, and by which way.</param>
    /// <param name="now">When.</param>
    /// <param name="amend">From the record to the amendments of it. None writes nothing.</param>
    /// <param name="cancel">Ends the wait; nothing is written then.</param>
    public static ValueTask<IReadOnlyList<FactEntry>> AmendAsync(this IHomeStore store, Author by, Instant now,
        Func<FactLog, IReadOnlyList<DatedFact>> amend, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(amend);
        return TriedAsync(store, async () =>
        {
            var log = FactLog.Of(await store.FactsSinceAsync(0, cancel));
            return Amended(log, Entries(log.Last, by, now, amend(log)));
        }, cancel);
    }

    /// <summary>The same in a store that is at hand.</summary>
    public static IReadOnlyList<FactEntry> Append(this IHomeStore store, Author by, Instant now, params IReadOnlyList<DatedFact> facts) =>
        AtHand.Of(store.WriteAsync(by, now, _ => facts));

    private static async ValueTask<IReadOnlyList<FactEntry>> TriedAsync(
        IHomeStore store, Func<ValueTask<JudgedFacts>> judged, CancellationToken cancel)
    {
        for (var tries = 1; tries <= TriesMax; tries++)
        {
            var act = await judged();
            if (act.Entries.Count == 0 || await store.TryAppendAsync([act], cancel))
            {
                return act.Entries;
            }
        }

        throw new FactConflictException(TriesMax);
    }

    private static JudgedFacts Amended(FactLog log, List<FactEntry> entries)
    {
        var next = log.With(entries);
        return new(entries, log.Home, next.Home, next.LeftOut);
    }

    private static List<FactEntry> Entries(long last, Author by, Instant now, IReadOnlyList<DatedFact> facts)
    {
        var first = last + 1;
        return [.. facts.Select((fact, i) => FactJson.AsKept(new(first + i, first, fact.Fact, fact.At, now, by)))];
    }
}
