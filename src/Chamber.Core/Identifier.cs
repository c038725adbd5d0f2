namespace Chamber.Core;

/// <summary>
/// The one spelling rule for the names that people give to probes, spots, crops and lots:
/// 1 to 48 letters, digits, <c>-</c>, <c>_</c> or <c>.</c>, starting with a letter or a digit.
/// Such a name is safe as an MQTT topic level (no <c>/ + #</c>), a URL segment and a file name.
/// </summary>
public static class Identifier
{
    /// <summary>The longest identifier, in characters.</summary>
    public const int LengthMax = 48;

    /// <summary>Whether <paramref name="text"/> keeps the rule.</summary>
    public static bool IsValid([System.Diagnostics.CodeAnalysis.NotNullWhen(true)] string? text) =>
        text is { Length: > 0 and <= LengthMax } && char.IsLetterOrDigit(text[0]) && text.All(IsAllowed);

    /// <summary>Returns <paramref name="text"/> when it keeps the rule.</summary>
    /// <param name="text">The name as typed.</param>
    /// <param name="what">What it names, for the message: "probe", "spot".</param>
    /// <exception cref="FormatException">It doesn't; the message says the rule.</exception>
    public static string Require(string? text, string what) =>
        IsValid(text)
            ? text
            : throw new FormatException($"\"{Shown(text)}\" cannot name a {what}: use 1 to {LengthMax} letters, digits, '-', '_' or '.', "
                + $"starting with a letter or digit.");

    // A line has an end, whatever was typed.
    private static string? Shown(string? text) => text is { Length: > 2 * LengthMax } ? text[..LengthMax] + "..." : text;

    private static bool IsAllowed(char character) => char.IsLetterOrDigit(character) || character is '-' or '_' or '.';
}
