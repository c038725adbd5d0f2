using System.Text.Json;

namespace Chamber.Storage.Facts;

/// <summary>Words of the domain as files have them: <c>DampTowel</c> is <c>damp-towel</c>.</summary>
internal static class Word
{
    public static string Of<T>(T value)
        where T : struct, Enum => JsonNamingPolicy.KebabCaseLower.ConvertName(value.ToString());

    /// <exception cref="FormatException">No such word; the message lists those that there are.</exception>
    public static T Read<T>(string word)
        where T : struct, Enum
    {
        foreach (var value in Enum.GetValues<T>())
        {
            if (Of(value) == word)
            {
                return value;
            }
        }

        throw new FormatException($"\"{word}\" is none of {string.Join(", ", Enum.GetValues<T>().Select(Of))}.");
    }
}
