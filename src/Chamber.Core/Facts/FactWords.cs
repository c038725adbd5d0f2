using System.Text.Json;

namespace Chamber.Core.Facts;

/// <summary>Parts of the line that a fact says of itself.</summary>
internal static class FactWords
{
    /// <summary>A line with whatever else is known after it.</summary>
    public static string Line(string first, params IEnumerable<string?> more) => string.Join(", ", more.OfType<string>().Prepend(first));

    /// <summary>A word of the domain as it is said: <c>damp towel</c>; null for none.</summary>
    public static string? Word<T>(T? value)
        where T : struct, Enum => value is { } known ? Spelled(known.ToString()) : null;

    /// <inheritdoc cref="Word{T}(T?)"/>
    public static string Word<T>(T value)
        where T : struct, Enum => Spelled(value.ToString());

    /// <summary>A name as it is said: <c>too cold</c>.</summary>
    public static string Spelled(string name) => JsonNamingPolicy.KebabCaseLower.ConvertName(name).Replace('-', ' ');
}
