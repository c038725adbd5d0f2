using System.Globalization;
using System.Text.Json;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Core.Facts;

/// <summary>Parts of the line that a fact says of itself.</summary>
internal static class FactWords
{
    private static readonly LocalDatePattern Day = LocalDatePattern.CreateWithInvariantCulture("d MMM uuuu");

    /// <summary>A line with whatever else is known after it.</summary>
    public static string Line(string first, params IEnumerable<string?> more) => string.Join(", ", more.OfType<string>().Prepend(first));

    /// <summary>A day as it is said: <c>17 May 2027</c>.</summary>
    public static string On(LocalDate day) => Day.Format(day);

    /// <summary>A word of the domain as it is said: <c>damp towel</c>; null for none.</summary>
    public static string? Word<T>(T? value)
        where T : struct, Enum => value is { } known ? Spelled(known.ToString()) : null;

    /// <inheritdoc cref="Word{T}(T?)"/>
    public static string Word<T>(T value)
        where T : struct, Enum => Spelled(value.ToString());

    /// <summary>How many, with the word for one of them in its number: <c>1 plant</c>, <c>3 plants</c>.</summary>
    public static string Count(int count, string one) =>
        string.Create(CultureInfo.InvariantCulture, $"{count} {one}{(count == 1 ? "" : "s")}");

    /// <summary>A name as it is said: <c>too cold</c>.</summary>
    public static string Spelled(string name) => JsonNamingPolicy.KebabCaseLower.ConvertName(name).Replace('-', ' ');
}
