using System.Collections.Concurrent;
using Chamber.Core;

namespace Chamber.Storage.Files;

/// <summary>
/// What lies in the file beyond <see cref="Bounds"/>, as a restored or edited file or an older version may have it: it counts for
/// nothing, so that one number cannot take the whole home down, and it is reported.
/// </summary>
/// <param name="keepsAll">Whether nothing is left out: for whoever brings an older file up to date and loses nothing of it.</param>
internal sealed class LeftOut(bool keepsAll = false)
{
    /// <summary>More are left out too, and no longer reported.</summary>
    private const int ToldMax = 100;

    private readonly ConcurrentDictionary<string, string> told = new(StringComparer.Ordinal);

    /// <summary>One sentence for each, with the fix, in order.</summary>
    public IReadOnlyList<string> All =>
        [.. told.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => $"{pair.Key} is left out: {pair.Value}")];

    /// <summary>The rows that lie within bounds.</summary>
    /// <param name="rows">All of them, just read.</param>
    /// <param name="whyNot">Why one does not; null when it does.</param>
    /// <param name="name">What it is, for a sentence: "Batch T3".</param>
    public List<T> Keep<T>(List<T> rows, Func<T, string?> whyNot, Func<T, string> name)
    {
        rows.RemoveAll(row => !Keeps(whyNot(row), () => name(row)));
        return rows;
    }

    /// <summary>Whether it is to be kept: there is no reason against it. Otherwise remembers the reason.</summary>
    public bool Keeps(string? why, Func<string> name)
    {
        if (keepsAll)
        {
            return true;
        }

        if (why is not null && told.Count < ToldMax)
        {
            told[name()] = why;
        }

        return why is null;
    }

    /// <summary>It was corrected, or is gone.</summary>
    public void Forget(string name) => told.TryRemove(name, out _);
}
