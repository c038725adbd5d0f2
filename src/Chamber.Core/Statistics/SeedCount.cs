using System.Globalization;

namespace Chamber.Core.Statistics;

/// <summary>So many up of so many seeds. Equality is by both numbers. The default value, 0 of 0, is no count and must not be
/// used.</summary>
public readonly record struct SeedCount
{
    /// <param name="up">How many came up, 0 to <paramref name="seeds"/>.</param>
    /// <param name="seeds">Of how many, at least 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no seed, or more are up than there were seeds.</exception>
    public SeedCount(int up, int seeds)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(seeds, 1);
        if (up < 0 || up > seeds)
        {
            throw new ArgumentOutOfRangeException(nameof(up), up, $"Of {seeds} seeds, 0 to {seeds} can be up.");
        }

        (Up, Seeds) = (up, seeds);
    }

    /// <summary>How many came up.</summary>
    public int Up { get; }

    /// <summary>Of how many; 1 or more.</summary>
    public int Seeds { get; }

    /// <summary>The share that came up, 0 to 1.</summary>
    public double Share => (double)Up / Seeds;

    /// <summary>Reads <c>11/14</c>.</summary>
    /// <exception cref="FormatException">It isn't a count; the message says what one looks like.</exception>
    public static SeedCount Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var parts = text.Split('/');
        if (parts.Length == 2
            && long.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var up)
            && long.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var seeds)
            && seeds > 0
            && up <= seeds)
        {
            Bounds.SeedsCounted.Require(seeds);
            return new((int)up, (int)seeds);
        }

        throw new FormatException(
            $"\"{text}\" is not a count: write how many are up and of how many seeds, as 11/14, with no more up than seeds.");
    }

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Up}/{Seeds}");
}
