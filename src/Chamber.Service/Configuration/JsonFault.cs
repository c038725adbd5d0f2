using System.Reflection;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.RegularExpressions;

namespace Chamber.Service.Configuration;

/// <summary>What can be wrong with JSON that somebody wrote.</summary>
internal enum JsonFaultKind
{
    /// <summary>It is not JSON.</summary>
    NotJson,

    /// <summary>A value that its own parser refuses.</summary>
    Refused,

    /// <summary>A value of another kind than is wanted.</summary>
    OtherKind,

    /// <summary>Null where there must be a value.</summary>
    Null,

    /// <summary>A member that is left out.</summary>
    Missing,

    /// <summary>A member that there is not.</summary>
    Unknown,

    /// <summary>A member that stands twice.</summary>
    Twice,
}

/// <summary>What the JSON reader found wrong, taken out of its sentences, which speak of types.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Path">The member to blame, such as <c>rows[0].crop</c>; empty for the whole.</param>
/// <param name="Words">What is wanted instead, what its parser said, or where it stops being JSON.</param>
/// <param name="Known">The members that there are, beside one that there is not.</param>
internal sealed partial record JsonFault(JsonFaultKind Kind, string Path, string Words, IReadOnlyList<string> Known)
{
    public static JsonFault Of(JsonException problem)
    {
        var (message, path) = (problem.Message, (problem.Path ?? "$").TrimStart('$').TrimStart('.'));
        return NullValue().Match(message) is { Success: true } none ? new(JsonFaultKind.Null, Join(path, Name(none)), "", [])
            : Unmapped().Match(message) is { Success: true } unmapped
                ? new(JsonFaultKind.Unknown, Join(path, Name(unmapped)), "", [.. NamesOf(unmapped.Groups["type"].Value)])
            : Left().Match(message) is { Success: true } left ? new(JsonFaultKind.Missing, Join(path, Name(left)), "", [])
            : Unconvertible().Match(message) is { Success: true } other
                ? new(JsonFaultKind.OtherKind, path, Wanted(other.Groups["type"].Value), [])
            : Duplicate().Match(message) is { Success: true } twice ? new(JsonFaultKind.Twice, Join(path, Name(twice)), "", [])
            : problem.InnerException is FormatException ? new(JsonFaultKind.Refused, path, message, [])
            : new(JsonFaultKind.NotJson, "", FirstSentence(message), []);
    }

    private static string Name(Match match) => match.Groups["name"].Value;

    private static string Join(string path, string name) => path == name || path.EndsWith("." + name, StringComparison.Ordinal) ? path
        : path.Length == 0 ? name : $"{path}.{name}";

    private static IEnumerable<string> NamesOf(string typeName) => Found(typeName)?.GetProperties()
        .Where(property => property.CanWrite).Select(NameOf).Where(name => !name.StartsWith('$')) ?? [];

    private static string NameOf(PropertyInfo property) =>
        property.GetCustomAttribute<JsonPropertyNameAttribute>()?.Name ?? JsonNamingPolicy.CamelCase.ConvertName(property.Name);

    private static string Wanted(string typeName) => typeName switch
    {
        _ when typeName.Contains("Dictionary", StringComparison.Ordinal) => "an object in curly brackets",
        _ when typeName.Contains("List", StringComparison.Ordinal) || typeName.EndsWith("[]", StringComparison.Ordinal) =>
            "a list in square brackets",
        _ when typeName.Contains("System.Boolean", StringComparison.Ordinal) => "true or false",
        _ when typeName.Contains("System.Int", StringComparison.Ordinal) => "a whole number",
        _ when typeName.Contains("System.Double", StringComparison.Ordinal)
            || typeName.Contains("System.Decimal", StringComparison.Ordinal) => "a number",
        _ when typeName.Contains("System.String", StringComparison.Ordinal) => "text in quotes",
        _ => EnumWords(typeName) ?? "an object in curly brackets",
    };

    private static string? EnumWords(string typeName) => Found(typeName) is { IsEnum: true } type
        ? "one of " + string.Join(", ", Enum.GetNames(type).Select(JsonNamingPolicy.CamelCase.ConvertName))
        : null;

    private static Type? Found(string typeName) => AppDomain.CurrentDomain.GetAssemblies().Select(assembly => assembly.GetType(typeName))
        .FirstOrDefault(found => found is not null);

    private static string FirstSentence(string message)
    {
        var end = message.IndexOf(". ", StringComparison.Ordinal);
        return end < 0 ? message : message[..(end + 1)];
    }

    [GeneratedRegex("^The JSON property '(?<name>[^']*)' could not be mapped to any .NET member contained in type '(?<type>[^']*)'")]
    private static partial Regex Unmapped();

    [GeneratedRegex("missing required properties including: '(?<name>[^']*)'")]
    private static partial Regex Left();

    [GeneratedRegex("^The JSON value could not be converted to (?<type>.*?)\\. Path")]
    private static partial Regex Unconvertible();

    [GeneratedRegex("^The (property or field|constructor parameter) '(?<name>[^']*)' on type '[^']*' doesn't allow")]
    private static partial Regex NullValue();

    [GeneratedRegex("^Duplicate property '(?<name>[^']*)'")]
    private static partial Regex Duplicate();
}
