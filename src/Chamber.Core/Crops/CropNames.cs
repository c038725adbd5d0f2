namespace Chamber.Core.Crops;

/// <summary>Finds crops by the names that people type.</summary>
internal static class CropNames
{
    private const int SuggestionsMax = 3;

    /// <summary>The words of a name in lower case and alphabetical order, so that "Sweet pepper" and "pepper-sweet" are one.</summary>
    public static string Key(string name)
    {
        var words = new string(
            [.. name.Where(character => character != '\'')
            .Select(character => char.IsLetterOrDigit(character) ? char.ToLowerInvariant(character) : ' ')]);
        return string.Join(' ', words.Split(' ', StringSplitOptions.RemoveEmptyEntries).Order(StringComparer.Ordinal));
    }

    /// <summary>Every key by which a crop is found.</summary>
    public static IEnumerable<string> Of(Crop crop) =>
        (crop.Guide?.Aliases ?? []).Prepend(crop.CommonName).Prepend(crop.BotanicalName).Prepend(crop.Id.Text).Select(Key);

    /// <summary>Up to three ids nearest to a name: those with a word of it first, then those a few letters away.</summary>
    public static IReadOnlyList<string> Nearest(string name, IEnumerable<Crop> crops)
    {
        var key = Key(name);
        return [.. crops
            .Select(crop => (crop.Id.Text, Distance: Of(crop).Min(other => Distance(key, other))))
            .Where(pair => pair.Distance <= Math.Max(1, key.Length / 3))
            .OrderBy(pair => pair.Distance).ThenBy(pair => pair.Text, StringComparer.Ordinal)
            .Take(SuggestionsMax)
            .Select(pair => pair.Text)];
    }

    private static int Distance(string typed, string known) =>
        typed.Length > 0 && known.Split(' ').Contains(typed) ? 0 : NearNames.Distance(typed, known);
}
