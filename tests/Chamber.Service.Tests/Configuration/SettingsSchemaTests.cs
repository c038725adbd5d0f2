using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Chamber.Service.Configuration;
using Chamber.Service.Notify;
using Chamber.Service.Tests.Commands;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Configuration;

/// <summary>
/// What is shown and written is made of the documented words, which the schema lists. Judged by another's validator: jsonschema for
/// Python (Debian's python3-jsonschema), draft 2020-12.
/// </summary>
public sealed partial class SettingsSchemaTests : IDisposable
{
    private static readonly string Schema = SourceTree.Path("config", "chamber.schema.json");

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    /// <summary>Rewritten when CHAMBER_ANSWERS is <c>write</c>.</summary>
    [Fact]
    public async Task The_schema_file_is_what_the_program_says()
    {
        var said = (await InProcess.Run("config", "schema", "--data", folder.Path)).Out;
        if (Environment.GetEnvironmentVariable("CHAMBER_ANSWERS") == "write")
        {
            await File.WriteAllTextAsync(Schema, said, TestContext.Current.CancellationToken);
        }

        Assert.Equal(await File.ReadAllTextAsync(Schema, TestContext.Current.CancellationToken), said);
    }

    [Fact]
    public async Task What_is_shown_is_valid_by_the_schema_and_comes_back_the_same()
    {
        Assert.Equal(string.Empty, await Faults(await Shown("{}")));
        var every = await File.ReadAllTextAsync(SourceTree.Path("tests", "cases", "settings", "every.json"),
            TestContext.Current.CancellationToken);
        Assert.Equal(string.Empty, await Faults(every));

        var shown = await Shown(every);

        Assert.Equal(string.Empty, await Faults(shown));
        Assert.Equal(shown, await Shown(shown));

        // Nothing that the file says was turned into another word on the way; what is shown beside it are defaults.
        AssertHolds(JsonNode.Parse(every)!, JsonNode.Parse(shown)!, "chamber.json");
    }

    [Fact]
    public async Task What_the_page_writes_is_valid_by_the_schema_and_comes_back_the_same()
    {
        var data = new DataDirectory(folder.Path);
        var settings = new SettingsInForce(new(), data, []);
        var setUp = new NoticeSetUp(settings, data);
        setUp.Set(new EmailRequest("mail.example.org", "chamber@example.org", ["grower@example.org"], 25, MailSecurity.WhenOffered,
            "grower", "a secret", true));
        setUp.Set(new WebhookRequest("https://box.example.org/chamber", "sixteen letters at least", false));
        setUp.Set(new WebPushRequest("mailto:grower@example.org", false));
        setUp.Set(new TellingRequest(new LocalTime(7, 30), new LocalTime(21, 30), new LocalTime(6, 45), "https://chamber.example.org"));

        var written = await File.ReadAllTextAsync(data.Settings, TestContext.Current.CancellationToken);

        Assert.Equal(string.Empty, await Faults(written));
        Assert.Equal(JsonSerializer.Serialize(settings.Notices, SettingsText.Options),
            JsonSerializer.Serialize(SettingsFile.Load(data, []).Notices, SettingsText.Options));
        Assert.Contains("\"whenOffered\"", written, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_sample_and_what_the_documents_show_are_valid_by_the_schema()
    {
        var shown = Directory.EnumerateFiles(SourceTree.Path("docs"), "*.md").Append(SourceTree.Path("README.md"))
            .SelectMany(path => Block().Matches(File.ReadAllText(path)).Select(match => match.Groups["json"].Value))
            .Select(AsSettings).OfType<string>().ToList();
        var sample = await File.ReadAllTextAsync(SourceTree.Path("config", "chamber.jsonc"), TestContext.Current.CancellationToken);

        Assert.Equal(string.Empty, await Faults([Plain(sample), Plain(Uncommented(sample)), .. shown]));

        // The mappings of docs/topics.md at least.
        Assert.True(shown.Count >= 3, $"Only {shown.Count} pieces of settings were found.");
    }

    [Fact]
    public void Every_word_of_the_schema_is_spelt_as_documents_spell_words()
    {
        var words = Words(JsonNode.Parse(File.ReadAllText(Schema))!).Distinct().ToList();
        Assert.Contains("epochSeconds", words);
        Assert.All(words.Except(["C", "F", "5", "3.1.1"]), word => Assert.Matches("^[a-z]", word));
    }

    private static IEnumerable<string> Words(JsonNode? node) => node switch
    {
        JsonObject all => (all["enum"] as JsonArray ?? []).Where(word => word is not null).Select(word => (string)word!)
            .Concat(all.SelectMany(member => Words(member.Value))),
        JsonArray all => all.SelectMany(Words),
        _ => [],
    };

    private static void AssertHolds(JsonNode? wanted, JsonNode? given, string place)
    {
        switch (wanted)
        {
            case JsonObject all:
                foreach (var (name, value) in all)
                {
                    AssertHolds(value, given![name], $"{place}.{name}");
                }

                break;
            case JsonArray all:
                foreach (var (index, value) in all.Index())
                {
                    AssertHolds(value, given![index], $"{place}[{index}]");
                }

                break;
            default:
                // A secret is shown as such.
                Assert.True(JsonNode.DeepEquals(wanted, given) || (string?)given == "(set, but not shown)",
                    $"{place}: {wanted} became {given}");
                break;
        }
    }

    // A mapping is shown by itself, a member without its brackets.
    private static string? AsSettings(string json) =>
        JsonNode.Parse(json.StartsWith('"') ? $"{{{json}}}" : json,
        documentOptions: new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true }) switch
    {
        JsonObject mapping when mapping.ContainsKey("topic") && mapping.ContainsKey("form") =>
            $$"""{ "mappings": [{{mapping.ToJsonString()}}] }""",
        JsonObject some when some.Count > 0 && some.All(member => Known.Contains(member.Key)) => some.ToJsonString(),
        _ => null,
    };

    private static HashSet<string> Known =>
        [.. JsonNode.Parse(File.ReadAllText(Schema))!["properties"]!.AsObject().Select(member => member.Key)];

    private static string Plain(string jsonc) =>
        JsonNode.Parse(jsonc,
            documentOptions: new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true })!.ToJsonString();

    // The sample shows in remarks what has no default.
    private static string Uncommented(string sample)
    {
        var shown = Prose().Replace(Remark().Replace(sample, ",${json},"), string.Empty);
        return Opening().Replace(Commas().Replace(shown, ","), "${bracket}");
    }

    private async Task<string> Shown(string settings)
    {
        folder.Write("chamber.json", settings);
        var outcome = await InProcess.Run("config", "show", "--data", folder.Path);
        Assert.Equal((0, string.Empty), (outcome.Code, outcome.Error));
        return outcome.Out;
    }

    private async Task<string> Faults(params string[] documents)
    {
        folder.Write("documents.json", "[" + string.Join(",\n", documents) + "]");
        return await Oracle.JsonSchema(Schema, folder.File("documents.json"));
    }

    [GeneratedRegex("```json\n(?<json>.*?)```", RegexOptions.Singleline)]
    private static partial Regex Block();

    [GeneratedRegex("^ *// (?<json>[\"{].*?),?$", RegexOptions.Multiline)]
    private static partial Regex Remark();

    [GeneratedRegex("^ *//.*$", RegexOptions.Multiline)]
    private static partial Regex Prose();

    [GeneratedRegex(@",(\s*,)+")]
    private static partial Regex Commas();

    [GeneratedRegex(@"(?<bracket>[{\[])\s*,")]
    private static partial Regex Opening();
}
