using System.Text.Json;
using System.Text.Json.Nodes;

namespace Chamber.Service.Configuration;

/// <summary>
/// The settings that belong to a home and not to the machine that keeps it: answers and alerts depend on them, so they move with it
/// (<c>settings.json</c> in the folder of <c>export --all</c>). Written as in chamber.json.
/// </summary>
internal static class OwnSettings
{
    /// <summary>Their keys, as steps.</summary>
    private static readonly string[][] Keys =
    [
        ["home"], ["units"], ["mappings"], ["newProbes"], ["quietHours"], ["notices", "digest"], ["alertLimits"], ["stopWaitingBelow"],
        ["prices"],
    ];

    private static readonly JsonDocumentOptions Lenient = new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true };

    /// <summary>Their keys in words.</summary>
    public static string Names => string.Join(", ", Keys.Select(steps => string.Join('.', steps)));

    /// <summary>Those of a home, as JSON. The zone is named also where it is the machine's.</summary>
    /// <exception cref="BadInputException">Its chamber.json cannot be read.</exception>
    public static string Of(DataDirectory data)
    {
        var settings = SettingsFile.LoadFile(data);
        var own = Picked(File.Exists(data.Settings) ? JsonNode.Parse(File.ReadAllText(data.Settings), documentOptions: Lenient) : null);
        own["home"] = JsonSerializer.SerializeToNode(settings.Home with { Zone = settings.Zone }, SettingsText.Options);
        return own.ToJsonString(SettingsText.Options) + "\n";
    }

    /// <summary>Reads them.</summary>
    /// <param name="name">What the text is called in messages.</param>
    /// <param name="text">Theirs and no others.</param>
    /// <param name="data">Where files would lie that they name.</param>
    /// <exception cref="BadInputException">They cannot be used; the message names line and key.</exception>
    public static Settings Read(string name, string text, DataDirectory data)
    {
        var settings = SettingsFile.Of(name, text, data);
        var whole = JsonNode.Parse(string.IsNullOrWhiteSpace(text) ? "{}" : text, documentOptions: Lenient);
        return JsonNode.DeepEquals(whole, Picked(whole)) ? settings
            : throw new BadInputException($"{name}: only these belong to a home wherever it is kept: {Names}. Leave the others out.");
    }

    private static JsonObject Picked(JsonNode? whole)
    {
        var own = new JsonObject();
        foreach (var steps in Keys)
        {
            if (whole is JsonObject all && all.TryGetPropertyValue(steps[0], out var part))
            {
                if (steps is [var name])
                {
                    own[name] = part?.DeepClone();
                }
                else if (part is JsonObject inner && inner.TryGetPropertyValue(steps[1], out var value))
                {
                    own[steps[0]] = new JsonObject { [steps[1]] = value?.DeepClone() };
                }
            }
        }

        return own;
    }
}
