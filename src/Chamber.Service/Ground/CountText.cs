using System.Globalization;

namespace Chamber.Service.Ground;

/// <summary>A number with the word for what is counted.</summary>
internal static class CountText
{
    /// <param name="count">How many.</param>
    /// <param name="one">The word for one.</param>
    /// <param name="many">The word for any other number; <paramref name="one"/> with an s by default.</param>
    public static string Of(long count, string one, string? many = null) =>
        string.Create(CultureInfo.InvariantCulture, $"{count:#,0} {(count == 1 ? one : many ?? one + "s")}");
}
