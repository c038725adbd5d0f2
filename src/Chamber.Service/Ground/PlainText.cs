using System.Globalization;

namespace Chamber.Service.Ground;

/// <summary>Small things of text that command line and page share.</summary>
internal static class PlainText
{
    /// <summary>With a capital, to begin a sentence.</summary>
    public static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>How many, with the word for one of them in its number: <c>1 batch</c>, <c>3 batches</c>.</summary>
    public static string Count(int number, string one) => string.Create(CultureInfo.InvariantCulture,
        $"{number:#,0} {one}{(number == 1 ? "" : one.EndsWith("ch", StringComparison.Ordinal) ? "es" : "s")}");

    /// <summary>A number for people, at most <paramref name="decimals"/> places.</summary>
    public static string Number(double value, int decimals = 1) =>
        value.ToString(decimals == 0 ? "0" : "0." + new string('#', decimals), CultureInfo.InvariantCulture);
}
