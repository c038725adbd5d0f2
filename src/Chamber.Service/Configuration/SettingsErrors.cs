using System.Reflection;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.RegularExpressions;

namespace Chamber.Service.Configuration;

/// <summary>Turns what the JSON reader says into a line for the person who wrote the file.</summary>
internal static partial class SettingsErrors
{
    /// <param name="problem">What the reader said.</param>
    /// <param name="where">Makes the beginning of the line from a key and a line number.</param>
    public static string Tell(JsonException problem, Func<string, long, string> where)
    {
        var line = (problem.LineNumber ?? 0) + 1;
        var key = Key(problem.Path);
        if (key.Length == 0 && problem.Message.StartsWith("The JSON value could not", StringComparison.Ordinal))
        {
            return where(string.Empty, line) + "the settings must be one object in curly brackets.";
        }

        if (NullValue().Match(problem.Message) is { Success: true } none)
        {
            return where(Join(key, none.Groups["name"].Value), line) + " cannot be null: give it a value, or remove it for the default.";
        }

        if (Unmapped().Match(problem.Message) is { Success: true } unmapped)
        {
            return where(Join(key, unmapped.Groups["name"].Value), line) + " is not a setting." + Known(unmapped.Groups["type"].Value);
        }

        if (Unconvertible().Match(problem.Message) is { Success: true } unconvertible)
        {
            return where(key, line) + $" must be {Wanted(unconvertible.Groups["type"].Value)}.";
        }

        if (Duplicate().Match(problem.Message) is { Success: true } duplicate)
        {
            return where(Join(key, duplicate.Groups["name"].Value), line) + " stands twice: keep one of them.";
        }

        return problem.InnerException is FormatException
            ? where(key, line) + ": " + problem.Message
            : where(string.Empty, line) + "this is not JSON: " + FirstSentence(problem.Message);
    }

    private static string Key(string? path) => (path ?? "$").TrimStart('$').TrimStart('.');

    private static string Join(string key, string name) => key.EndsWith(name, StringComparison.Ordinal)
        ? key
        : key.Length == 0 ? name : $"{key}.{name}";

    private static IEnumerable<string> NamesOf(Type type) =>
        type.GetProperties().Where(property => property.CanWrite).Select(NameOf).Where(name => !name.StartsWith('$'));

    private static string Known(string typeName)
    {
        var type = AppDomain.CurrentDomain.GetAssemblies().Select(assembly => assembly.GetType(typeName))
            .FirstOrDefault(found => found is not null);
        return type is null
            ? string.Empty
            : $" Known here: {string.Join(", ", NamesOf(type))}.";
    }

    private static string NameOf(PropertyInfo property) =>
        property.GetCustomAttribute<JsonPropertyNameAttribute>()?.Name ?? JsonNamingPolicy.CamelCase.ConvertName(property.Name);

    private static string Wanted(string typeName) => typeName switch
    {
        _ when typeName.Contains("Boolean", StringComparison.Ordinal) => "true or false",
        _ when typeName.Contains("Int32", StringComparison.Ordinal) => "a whole number",
        _ when typeName.Contains("Double", StringComparison.Ordinal) => "a number",
        _ when typeName.Contains("System.String", StringComparison.Ordinal) => "text in quotes",
        _ when typeName.Contains("List", StringComparison.Ordinal) => "a list in square brackets",
        _ => EnumWords(typeName) ?? "an object in curly brackets",
    };

    private static string? EnumWords(string typeName) =>
        AppDomain.CurrentDomain.GetAssemblies().Select(assembly => assembly.GetType(typeName))
            .FirstOrDefault(found => found is { IsEnum: true }) is { } type
            ? "one of " + string.Join(", ", Enum.GetNames(type).Select(JsonNamingPolicy.CamelCase.ConvertName))
            : null;

    private static string FirstSentence(string message)
    {
        var end = message.IndexOf(". ", StringComparison.Ordinal);
        return end < 0 ? message : message[..(end + 1)];
    }

    [GeneratedRegex("^The JSON property '(?<name>[^']*)' could not be mapped to any .NET member contained in type '(?<type>[^']*)'")]
    private static partial Regex Unmapped();

    [GeneratedRegex("^The JSON value could not be converted to (?<type>.*?)\\. Path")]
    private static partial Regex Unconvertible();

    [GeneratedRegex("^The property or field '(?<name>[^']*)' on type '[^']*' doesn't allow setting null")]
    private static partial Regex NullValue();

    [GeneratedRegex("^Duplicate property '(?<name>[^']*)'")]
    private static partial Regex Duplicate();
}
