using System.Text.Json;
using System.Text.Json.Nodes;

namespace Chamber.Service.Configuration;

/// <summary>
/// Reads chamber.json and then the environment (CHAMBER_BROKER__PORT=1884 stands for broker.port), and checks that the whole
/// makes sense. The first thing that doesn't is reported in one line: the file, the line or variable, the key and the fix.
/// </summary>
internal static class SettingsFile
{
    private const string Prefix = "CHAMBER_";

    private static readonly string[] Secrets = ["password", "passwordFile", "secret", "secretFile"];

    /// <exception cref="BadInputException">Something in it cannot be used.</exception>
    public static Settings Load(DataDirectory data, IEnumerable<KeyValuePair<string, string>> environment)
    {
        var text = ReadText(data.Settings);
        return Of(text, data, environment);
    }

    /// <summary>The same for a service that is to run whatever becomes of the file: where it is broken or empty, the last good copy of it
    /// counts.</summary>
    /// <param name="data">Whose file.</param>
    /// <param name="environment">What overrides it.</param>
    /// <param name="trouble">Is told what is wrong with the file, and the fix.</param>
    /// <exception cref="BadInputException">It cannot be used, and there is no good copy of it.</exception>
    public static Settings LoadOrLastGood(DataDirectory data, IEnumerable<KeyValuePair<string, string>> environment, Action<string> trouble)
    {
        var copy = LastGood.Read(data, data.Settings);
        var emptied = copy is { Length: > 2 } && File.Exists(data.Settings) && new FileInfo(data.Settings).Length == 0;
        try
        {
            var settings = emptied ? throw new BadInputException($"{data.Settings} is empty, and was not before.")
                : Load(data, environment);
            LastGood.Keep(data, data.Settings);
            return settings;
        }
        catch (BadInputException problem) when (copy is not null)
        {
            var settings = Of(copy, data, environment);
            trouble($"{problem.Message} The settings of the last good start are in force until it is right: "
                + $"{LastGood.CopyOf(data, data.Settings)}");
            return settings;
        }
    }

    /// <summary>What the file alone says, without the environment.</summary>
    /// <exception cref="BadInputException">It cannot be read.</exception>
    public static Settings LoadFile(DataDirectory data) => Read(data.Settings, ReadText(data.Settings));

    /// <summary>Settings that stand in no file here, checked as those of one.</summary>
    /// <param name="name">What the text is called in messages.</param>
    /// <param name="text">As chamber.json is written.</param>
    /// <param name="data">Where files would lie that it names.</param>
    /// <exception cref="BadInputException">Something in it cannot be used.</exception>
    public static Settings Of(string name, string text, DataDirectory data)
    {
        var settings = Read(name, string.IsNullOrWhiteSpace(text) ? "{}" : text);
        return SettingsCheck.FirstProblem(settings, data) is { } problem
            ? throw new BadInputException($"{name}: {Told(problem)}") : settings;
    }

    /// <summary>Changes values of the file, all of them or none: the whole is checked before anything is written.</summary>
    /// <param name="data">Whose file.</param>
    /// <param name="environment">What overrides it.</param>
    /// <param name="changes">Keys, such as <c>notices.email</c>, with what they are to be.</param>
    /// <returns>The settings in force from now on.</returns>
    /// <exception cref="BadInputException">It would not be good settings, the environment decides about a key, or the file cannot be
    /// written.</exception>
    public static Settings Change(DataDirectory data, IReadOnlyCollection<KeyValuePair<string, string>> environment,
        IEnumerable<(string Key, JsonNode? Value)> changes)
    {
        var text = ReadText(data.Settings);
        Read(data.Settings, text);
        foreach (var (key, value) in changes)
        {
            if (environment.Where(IsOverride).FirstOrDefault(pair => Decides(KeyOf(pair.Key), key)) is { Key: { } name })
            {
                throw new BadInputException($"The environment decides about {key}, by {name}: change it there.");
            }

            text = SettingsEdit.Put(text, key.Split('.'), value);
        }

        var settings = Of(text, data, environment);
        try
        {
            WholeFile.Write(data.Settings, text, ownerOnly: false);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{data.Settings} cannot be written, so nothing was changed: {problem.Message}", problem);
        }

        return settings;
    }

    private static Settings Of(string text, DataDirectory data, IEnumerable<KeyValuePair<string, string>> environment)
    {
        var settings = Read(data.Settings, text);
        var origins = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var (name, value) in environment.Where(IsOverride).OrderBy(pair => pair.Key, StringComparer.Ordinal))
        {
            (settings, text) = Override(text, name, value);
            origins[KeyOf(name)] = name;
        }

        if (SettingsCheck.FirstProblem(settings, data) is { } problem)
        {
            throw new BadInputException($"{origins.GetValueOrDefault(problem.Key, data.Settings)}: "
                + Told(problem));
        }

        return settings;
    }

    private static string Told(SettingsProblem problem) =>
        $"{problem.Key}{(problem.Fix.StartsWith('[') ? string.Empty : " ")}{problem.Fix}";

    private static bool IsOverride(KeyValuePair<string, string> pair) =>
        pair.Key.StartsWith(Prefix, StringComparison.Ordinal) && pair.Key.Contains("__", StringComparison.Ordinal);

    // A secret is the part that may well come from the environment while the rest stands in the file.
    private static bool Decides(string variable, string key) =>
        variable == key
            || (variable.StartsWith(key + ".", StringComparison.Ordinal) && !Secrets.Contains(variable[(variable.LastIndexOf('.') + 1)..]));

    private static string ReadText(string path)
    {
        try
        {
            var text = File.Exists(path) ? File.ReadAllText(path) : "{}";
            return string.IsNullOrWhiteSpace(text) ? "{}" : text;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{path} cannot be read: {FileFault.Of(problem)}", problem);
        }
    }

    // Most homes need no settings, and then the JSON library need not be loaded.
    private static Settings Read(string path, string text) =>
        text == "{}" ? new() : Parse(text, (key, line) => $"{path} line {line}: {key}");

    private static (Settings Settings, string Text) Override(string text, string name, string value)
    {
        var root = JsonNode.Parse(text,
            documentOptions: new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true })!.AsObject();
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
