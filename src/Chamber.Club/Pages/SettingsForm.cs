using System.Text.Json;
using System.Text.Json.Nodes;
using Chamber.Club.Store;
using Chamber.Service.Configuration;
using Microsoft.AspNetCore.Http;
using NodaTime;

namespace Chamber.Club.Pages;

/// <summary>What is set for a home, as fields of a form.</summary>
/// <param name="Zone">Its time zone, by its name in the tz database.</param>
/// <param name="Units">C or F.</param>
/// <param name="QuietFrom">From when on nothing but danger is sent, HH:MM; empty for no quiet hours.</param>
/// <param name="QuietTo">Until when.</param>
/// <param name="Digest">When the daily digest is sent, HH:MM; empty for none.</param>
/// <param name="Rest">All else, as JSON.</param>
public sealed record SettingsForm(string Zone, string Units, string QuietFrom, string QuietTo, string Digest, string Rest)
{
    private const string Empty = "{\n}";

    internal static SettingsForm Of(string? text)
    {
        var settings = SettingRows.Of(text);
        var rest = Parsed(text);
        foreach (var key in (string[])["home", "units", "quietHours", "notices"])
        {
            rest.Remove(key);
        }

        return new(settings.Zone.Id, settings.Units == Core.Climate.TemperatureScale.Fahrenheit ? "F" : "C",
            settings.QuietHours is { } quiet ? SettingsText.ShowTime(quiet.From) : "",
            settings.QuietHours is { } hours ? SettingsText.ShowTime(hours.To) : "",
            settings.Notices.Digest is { } digest ? SettingsText.ShowTime(digest.At) : "",
            rest.Count == 0 ? Empty : rest.ToJsonString(SettingsText.Options));
    }

    internal static SettingsForm Of(IFormCollection form) => new(
        Field(form, "zone"), Field(form, "units"), Field(form, "quiet-from"), Field(form, "quiet-to"), Field(form, "digest"),
        Field(form, "rest"));

    /// <summary>As it is kept.</summary>
    /// <exception cref="FormatException">The rest is no JSON, or of the quiet hours one end is missing.</exception>
    internal string ToText()
    {
        var all = Parsed(Rest);
        all["home"] = new JsonObject { ["zone"] = Zone.Length > 0 ? Zone : DateTimeZone.Utc.Id };
        all["units"] = Units.Length > 0 ? Units : "C";
        if (QuietFrom.Length + QuietTo.Length > 0)
        {
            all["quietHours"] = QuietFrom.Length > 0 && QuietTo.Length > 0
                ? new JsonObject { ["from"] = QuietFrom, ["to"] = QuietTo }
                : throw new FormatException("Quiet hours need both ends, or neither.");
        }

        if (Digest.Length > 0)
        {
            all["notices"] = new JsonObject { ["digest"] = new JsonObject { ["at"] = Digest } };
        }

        return all.ToJsonString(SettingsText.Options) + "\n";
    }

    private static string Field(IFormCollection form, string name) => form[name].ToString().Trim();

    private static JsonObject Parsed(string? text)
    {
        try
        {
            var parsed = JsonNode.Parse(string.IsNullOrWhiteSpace(text) ? "{}" : text,
                documentOptions: new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
            return parsed as JsonObject ?? throw new FormatException("Other settings: write an object in curly brackets.");
        }
        catch (JsonException problem)
        {
            throw new FormatException($"Other settings are not JSON: {problem.Message}", problem);
        }
    }
}
