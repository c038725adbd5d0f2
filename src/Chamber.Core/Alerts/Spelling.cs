namespace Chamber.Core.Alerts;

/// <summary>Names of the code as people write them.</summary>
internal static class Spelling
{
    /// <summary>"TooHot" as "too hot".</summary>
    public static string Spaced(string name) =>
        string.Concat(name.Select((letter, index) => char.IsUpper(letter) ? (index > 0 ? " " : "") + char.ToLowerInvariant(letter)
            : letter.ToString()));
}
