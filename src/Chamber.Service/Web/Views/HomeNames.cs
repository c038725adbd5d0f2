using System.Text.RegularExpressions;
using Chamber.Service.Home;

namespace Chamber.Service.Web.Views;

/// <summary>A piece of a sentence.</summary>
/// <param name="Text">Its words.</param>
/// <param name="Href">Where it leads; null for words that name nothing.</param>
public readonly record struct NamedText(string Text, string? Href);

/// <summary>The names of this home that lead somewhere: its batches under way and its spots.</summary>
public sealed class HomeNames
{
    private static readonly TimeSpan MatchingMax = TimeSpan.FromSeconds(1);

    private readonly Dictionary<string, string> known;
    private readonly Regex? any;

    /// <param name="names">A name with where it leads; of two of one name the first counts.</param>
    public HomeNames(IEnumerable<KeyValuePair<string, string>> names)
    {
        known = names.DistinctBy(one => one.Key, StringComparer.Ordinal).ToDictionary(StringComparer.Ordinal);

        // A name is whole: no letter, digit or dash of a longer one stands beside it.
        any = known.Count == 0 ? null : new(
            $@"(?<![\p{{L}}\p{{N}}_-])(?:{string.Join('|', known.Keys.OrderByDescending(name => name.Length).Select(Regex.Escape))})"
                + @"(?![\p{L}\p{N}_-]|\.[\p{L}\p{N}])", RegexOptions.CultureInvariant, MatchingMax);
    }

    /// <summary>No names at all.</summary>
    public static HomeNames None { get; } = new([]);

    internal static HomeNames Of(HomeReader home)
    {
        var shown = home.Ledger.Names;
        return new([
            .. home.Ledger.OpenBatches.SelectMany(batch => Both(batch.Id.Text, shown.Of(batch.Id), "batches")),
            .. home.Spots().SelectMany(spot => Both(spot.Id.Text, shown.Of(spot.Id), "spots")),
        ]);
    }

    private static IEnumerable<KeyValuePair<string, string>> Both(string name, string shown, string folder) =>
        new[] { name, shown }.Distinct().Select(one => KeyValuePair.Create(one, $"{folder}/{Uri.EscapeDataString(name)}"));

    /// <summary>A sentence in pieces, each name one of them.</summary>
    public IReadOnlyList<NamedText> Split(string text)
    {
        List<NamedText> parts = [];
        var end = 0;
        foreach (Match found in any?.Matches(text) ?? Enumerable.Empty<Match>())
        {
            Add(text[end..found.Index], null);
            Add(found.Value, known[found.Value]);
            end = found.Index + found.Length;
        }

        Add(text[end..], null);
        return parts;

        void Add(string words, string? href)
        {
            if (words.Length > 0)
            {
                parts.Add(new(words, href));
            }
        }
    }
}
