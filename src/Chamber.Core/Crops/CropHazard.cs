namespace Chamber.Core.Crops;

/// <summary>Whom a hazard of a crop concerns.</summary>
public enum HazardConcerns
{
    /// <summary>People who swallow it, and pets.</summary>
    People,

    /// <summary>Pets, where people eat it without harm.</summary>
    Pets,

    /// <summary>Skin that its sap touches.</summary>
    Skin,
}

/// <summary>A part of a crop that can hurt.</summary>
/// <param name="Concerns">Whom.</param>
/// <param name="Words">Which part, and how, to end a sentence that begins with the crop's name: "raw seed is poisonous".</param>
/// <param name="Advice">What more there is to know; may be empty.</param>
/// <param name="Source">Where that comes from.</param>
public sealed record CropHazard(HazardConcerns Concerns, string Words, string Advice, string Source)
{
    /// <summary>The answer that nothing of a crop is poisonous.</summary>
    public const string None = "no";

    /// <summary>The longest answer that is taken.</summary>
    public const int WordsMax = 200;

    /// <summary>What is known of a crop after the user has answered: a "no" clears what a new crop took over, never what has a
    /// source.</summary>
    /// <param name="basis">What the crop starts from, or null.</param>
    /// <param name="crop">The crop.</param>
    /// <param name="answer">What the user says of it, or null.</param>
    /// <exception cref="FormatException">The answer is too long.</exception>
    internal static IReadOnlyList<CropHazard> With(Crop? basis, CropId crop, string? answer)
    {
        var known = basis?.Hazards ?? [];
        if (answer is null)
        {
            return known;
        }

        var words = answer.Trim().TrimEnd('.');
        if (words.Length > WordsMax)
        {
            throw new FormatException($"The crop {crop}: poisonous has {words.Length} letters; {WordsMax} are enough to say which part.");
        }

        var isOwn = basis?.Id != crop;
        return words.Length == 0 || words.Equals(None, StringComparison.OrdinalIgnoreCase)
            ? isOwn ? [] : known
            : [.. isOwn ? [] : known, new(HazardConcerns.People, words, "", "The user's own word.")];
    }
}

/// <summary>Reads the shipped hazards. A crop without a row is not thereby safe: no source was found that says otherwise.</summary>
internal static class HazardReader
{
    public static ILookup<string, CropHazard> Read() => CsvTable.Embedded("hazards.csv").Rows.ToLookup(
        row => row.Text("crop"),
        row => new CropHazard(
            row.Text("concerns") switch
            {
                "people" => HazardConcerns.People,
                "pets" => HazardConcerns.Pets,
                "skin" => HazardConcerns.Skin,
                var other => throw new FormatException($"hazards.csv: \"{other}\" of {row.Text("crop")} is none of people, pets, skin."),
            },
            row.Text("words"),
            row.Text("advice"),
            row.Text("source")));
}
