namespace Chamber.Core;

/// <summary>Names a slip of the finger away from what somebody typed.</summary>
public static class NearNames
{
    private const int SuggestionsMax = 3;

    /// <summary>Up to three, the nearest first: at most a third of the letters away, and at least one may be wrong.</summary>
    public static IReadOnlyList<string> Of(string typed, IEnumerable<string> known)
    {
        ArgumentNullException.ThrowIfNull(typed);
        var plain = typed.ToLowerInvariant();
        return [.. known
            .Select(name => (Name: name, Distance: Distance(plain, name.ToLowerInvariant())))
            .Where(pair => pair.Distance <= Math.Max(1, plain.Length / 3))
            .OrderBy(pair => pair.Distance).ThenBy(pair => pair.Name, StringComparer.Ordinal)
            .Take(SuggestionsMax)
            .Select(pair => pair.Name)];
    }

    /// <summary>They as a question, <c> Did you mean shelf?</c> with the blank before it; empty when there is none.</summary>
    public static string Question(string typed, IEnumerable<string> known) =>
        Of(typed, known) is { Count: > 0 } near ? $" Did you mean {string.Join(" or ", near)}?" : "";

    /// <summary>Insertions, deletions, replacements and swaps of neighbours from one to the other (Damerau 1964, Levenshtein
    /// 1966).</summary>
    public static int Distance(string left, string right)
    {
        ArgumentNullException.ThrowIfNull(left);
        ArgumentNullException.ThrowIfNull(right);
        var (before, previous) = (new int[right.Length + 1], Enumerable.Range(0, right.Length + 1).ToArray());
        for (var i = 1; i <= left.Length; i++)
        {
            var current = new int[right.Length + 1];
            current[0] = i;
            for (var j = 1; j <= right.Length; j++)
            {
                current[j] = Math.Min(
                    Math.Min(current[j - 1], previous[j]) + 1,
                    previous[j - 1] + (left[i - 1] == right[j - 1] ? 0 : 1));
                if (i > 1 && j > 1 && left[i - 1] == right[j - 2] && left[i - 2] == right[j - 1])
                {
                    current[j] = Math.Min(current[j], before[j - 2] + 1);
                }
            }

            (before, previous) = (previous, current);
        }

        return previous[^1];
    }
}
