using System.Text.Json;
using System.Text.Json.Nodes;
using Chamber.Service.Commands;

namespace Chamber.Service.Configuration;

/// <summary>
/// Reads chamber.json and then the environment (CHAMBER_BROKER__PORT=1884 stands for broker.port), and checks that the whole
/// makes sense. The first thing that doesn't is told in one line: the file, the line or variable, the key and the mend.
/// </summary>
internal static class SettingsFile
{
    private const string Prefix = "CHAMBER_";

    /// <exception cref="BadInputException">Something in it cannot be used.</exception>
    public static Settings Load(DataDirectory data, IEnumerable<KeyValuePair<string, string>> environment)
    {
        var settings = Read(data.Settings, out var text);
        var origins = new Dictionary<string, string>(StringComparer.Ordinal);
        var overrides = environment
            .Where(pair => pair.Key.StartsWith(Prefix, StringComparison.Ordinal) && pair.Key.Contains("__", StringComparison.Ordinal))
            .OrderBy(pair => pair.Key, StringComparer.Ordinal);
        foreach (var (name, value) in overrides)
        {
            (settings, text) = Override(text, name, value);
            origins[KeyOf(name)] = name;
        }

        if (SettingsCheck.FirstProblem(settings, data) is { } problem)
        {
            throw new BadInputException($"{origins.GetValueOrDefault(problem.Key, data.Settings)}: {problem.Key}{(problem.Mend.StartsWith('[') ? string.Empty : " ")}{problem.Mend}");
        }

        return settings;
    }

    private static Settings Read(string path, out string text)
    {
        try
        {
            text = File.Exists(path) ? File.ReadAllText(path) : "{}";
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{path} cannot be read: {problem.Message}", problem);
        }

        if (string.IsNullOrWhiteSpace(text))
        {
            text = "{}";
        }

        // Most homes need no settings, and reading none takes a tenth of a second of a start.
        return text == "{}" ? new() : Parse(text, (key, line) => $"{path} line {line}: {key}");
    }

    private static (Settings Settings, string Text) Override(string text, string name, string value)
    {
        var root = JsonNode.Parse(text, documentOptions: new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true })!.AsObject();
        var path = KeyOf(name).Split('.');
        var at = root;
        foreach (var step in path[..^1])
        {
            at = at[step] as JsonObject ?? (JsonObject)(at[step] = new JsonObject());
        }

        at[path[^1]] = Value(value);
        var changed = root.ToJsonString();
        return (Parse(changed, (key, _) => $"{name}: {key}"), changed);
    }

    private static string KeyOf(string name) => string.Join('.', name[Prefix.Length..].Split("__").Select(CamelCase));

    // A word stays a word unless it is a number, true, false, a list or an object in JSON.
    private static JsonNode? Value(string text)
    {
        try
        {
            return JsonNode.Parse(text);
        }
        catch (JsonException)
        {
            return JsonValue.Create(text);
        }
    }

    // QUIET_HOURS is quietHours.
    private static string CamelCase(string upper)
    {
        var words = upper.Split('_');
        return string.Concat(words.Select((word, index) => index == 0
            ? word.ToLowerInvariant()
            : char.ToUpperInvariant(word[0]) + word[1..].ToLowerInvariant()));
    }

    private static Settings Parse(string text, Func<string, long, string> where)
    {
        try
        {
            return JsonSerializer.Deserialize<Settings>(text, SettingsText.Options) ?? new();
        }
        catch (JsonException problem)
        {
            throw new BadInputException(SettingsErrors.Tell(problem, where), problem);
        }
    }
}
