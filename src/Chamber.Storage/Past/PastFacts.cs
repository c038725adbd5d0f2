using Chamber.Core;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Storage.Past;

/// <summary>The facts of a home, for asking what was known at one moment after another. One thread asks at a time.</summary>
public sealed class PastFacts
{
    private readonly IReadOnlyList<FactEntry> entries;
    private readonly HomeState present;
    private (List<FactEntry> Entries, HomeState Home)? last;

    /// <param name="entries">All that are written down, in order of number.</param>
    public PastFacts(IReadOnlyList<FactEntry> entries)
    {
        this.entries = entries;
        present = FactLog.Of(entries).Home;
    }

    /// <summary>The home as it is.</summary>
    public HomeState Present => present;

    /// <summary>What was written down by a moment.</summary>
    public IReadOnlyList<FactEntry> By(Instant known) => [.. entries.Where(entry => entry.WrittenAt <= known)];

    /// <summary>The home that it made. Asked of a later moment next, only what came in between is folded.</summary>
    public HomeState At(Instant known)
    {
        List<FactEntry> by = [.. By(known)];
        var home = by.Count == entries.Count ? present : Later(by) ?? FactLog.Of(by).Home;
        last = (by, home);
        return home;
    }

    // From the home that was asked for last; null where what came in between changes what was said before.
    private HomeState? Later(List<FactEntry> by)
    {
        if (last is not var (before, home) || by.Count < before.Count || (before.Count > 0 && by[before.Count - 1] != before[^1]))
        {
            return null;
        }

        try
        {
            var added = by.Skip(before.Count).ToList();
            return added.Exists(entry => entry.Fact is Withdrawn or Corrected) ? null
                : home.Apply(added.Select(entry => entry.Fact.At(entry.At)));
        }
        catch (RefusedException)
        {
            return null;
        }
    }
}
