using System.Text.Json;
using Chamber.Core.Alerts;

namespace Chamber.Service.Ground;

/// <summary>Words of the domain as they are typed and shown: <c>DampTowel</c> is <c>damp-towel</c>.</summary>
internal static class Choice
{
    /// <exception cref="FormatException">No such word; the message lists those that there are.</exception>
    public static T Parse<T>(string text)
        where T : struct, Enum
    {
        foreach (var value in Enum.GetValues<T>())
        {
            if (string.Equals(Word(value), text.Trim().Replace(' ', '-'), StringComparison.OrdinalIgnoreCase))
            {
                return value;
            }
        }

        throw new FormatException($"\"{text}\" is none of {string.Join(", ", Enum.GetValues<T>().Select(Word))}.");
    }

    public static string Word<T>(T value)
        where T : struct, Enum => Kebab(value.ToString());

    /// <summary>The condition of an alert: <c>too-hot</c>.</summary>
    public static string Word(AlertKind kind) => Kebab(kind.Name);

    private static string Kebab(string name) => JsonNamingPolicy.KebabCaseLower.ConvertName(name);

    /// <summary>For a sentence: <c>damp towel</c>.</summary>
    public static string Words<T>(T value)
        where T : struct, Enum => Word(value).Replace('-', ' ');
}
