using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Chamber.Testing;

namespace Chamber.Service.Tests.Web.Api;

/// <summary>Every number that the API takes, found in its own document, at extremes: refused with its name, or taken and harmless. The
/// numbers are those that a slip of a finger or a broken program sends. Extremes are invented.</summary>
public partial class ApiExtremesTests
{
    private static readonly string[] Extremes = ["1e9", "1e308", "1e400", "-1", "-1e308", "\"NaN\"", "null"];

    // A body that is taken, where the walk through all operations has none.
    private static readonly Dictionary<string, string> Bodies = new()
    {
        ["/api/batches/{batch}/photos/{name}/marks"] = """[{ "seedling": 1, "x": 0.5, "y": 0.5 }]""",
    };

    // What the paths name in the rig's home.
    private readonly Dictionary<string, string> named = new()
    {
        ["batch"] = "T1", ["lot"] = "tomato-24", ["probe"] = "p1", ["spot"] = "shelf", ["crop"] = "tomato", ["number"] = "1",
    };

    // The rest of a question, so that only the number can be what is wrong with it.
    private static readonly Dictionary<string, string> Asked = new()
    {
        ["/api/plan"] = "plants=12&germination=0.8", ["/api/dates"] = "crop=tomato:2&lastFrost=2027-05-10",
        ["/api/crops/tomato/forecast"] = "at=20C",
    };

    [Fact]
    public async Task Every_number_of_every_body_is_bounded_or_harmless()
    {
        await using var rig = await ApiRig.Start();
        named["name"] = await Photo(rig);
        var document = JsonDocument.Parse((await rig.Json("GET", "/openapi/v1.json")).GetRawText()).RootElement;
        var tried = 0;
        foreach (var (method, path, node) in Operations(document).Where(operation => operation.Node.TryGetProperty("requestBody", out _)))
        {
            var schema = node.GetProperty("requestBody").GetProperty("content").EnumerateObject().First().Value.GetProperty("schema");
            foreach (var member in Numbers(document, schema, []))
            {
                foreach (var extreme in Extremes)
                {
                    await Tried(rig, method, Filled(path), With(BodyOf(method, path), member, extreme), member[^1]);
                    tried++;
                }
            }
        }

        Assert.True(tried > 150, $"{tried} bodies were tried.");
        await StillAnswers(rig);
    }

    [Fact]
    public async Task Every_number_of_every_question_is_bounded_or_harmless()
    {
        await using var rig = await ApiRig.Start();
        named["name"] = await Photo(rig);
        var document = JsonDocument.Parse((await rig.Json("GET", "/openapi/v1.json")).GetRawText()).RootElement;
        var tried = 0;
        foreach (var (method, path, node) in Operations(document).Where(operation => operation.Node.TryGetProperty("parameters", out _)))
        {
            foreach (var asked in node.GetProperty("parameters").EnumerateArray()
                .Where(one => one.GetProperty("in").GetString() == "query" && IsNumber(Resolved(document, one.GetProperty("schema")))))
            {
                var name = asked.GetProperty("name").GetString()!;
                foreach (var extreme in Extremes.Where(extreme => extreme != "null"))
                {
                    var rest = string.Join('&', Asked.GetValueOrDefault(Filled(path), "").Split('&')
                        .Where(part => !part.StartsWith($"{name}=", StringComparison.Ordinal)));
                    await Tried(rig, method, $"{Filled(path)}?{name}={extreme.Trim('"')}&{rest}", null, name);
                    tried++;
                }
            }
        }

        Assert.True(tried > 100, $"{tried} questions were asked.");
        await StillAnswers(rig);
    }

    private static async Task<string> Photo(ApiRig rig)
    {
        using var sent = await rig.Post("/api/batches/T1/photos", SomePhoto.Jpeg(64, 48, SkiaSharp.SKColors.Green), "image/jpeg");
        return sent.Headers.Location!.ToString().Split('/')[^1];
    }

    private static async Task Tried(ApiRig rig, string method, string path, string? body, string member)
    {
        using var answer = await rig.Call(method, path, body);
        var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        var status = (int)answer.StatusCode;
        Assert.True(status < 500, $"{method} {path} {body}: {status} {text}");

        // A conflict is with what is recorded, whatever the number.
        Assert.True(status is < 400 or 409 || text.Contains(member, StringComparison.OrdinalIgnoreCase),
            $"{method} {path} {body}: {status} does not name {member}: {text}");
    }

    private static async Task StillAnswers(ApiRig rig)
    {
        foreach (var path in (string[])["today", "batches", "batches/T1", "lots", "spots", "season", "season-plan", "place", "hindsight",
            "alerts?all=true", "probes", "export"])
        {
            await rig.Json("GET", $"/api/{path}");
        }

        using var page = await rig.Call("GET", "/");
        Assert.True(page.IsSuccessStatusCode);
    }

    // One that the walk through all operations sends and that is taken.
    private static string BodyOf(string method, string path) => Bodies.TryGetValue(path, out var body) ? body
        : ApiModuleTests.Calls.First(call => call.Method == method && call.Body is not null && call.Status < 300
            && Regex.IsMatch(call.Path, $"^{Braced().Replace(path, "[^/]+")}$")).Body!;

    private string Filled(string path) => Braced().Replace(path, braces => named[braces.Groups["name"].Value]);

    private static string With(string body, IReadOnlyList<string> member, string value)
    {
        const string mark = "@@";
        var whole = JsonNode.Parse(body)!;
        var at = whole;
        foreach (var step in member.SkipLast(1))
        {
            at = step == "[]" ? at[0]! : at[step] ??= new JsonObject();
        }

        at[member[^1]] = mark;
        return whole.ToJsonString().Replace($"\"{mark}\"", value, StringComparison.Ordinal);
    }

    private static IEnumerable<string[]> Numbers(JsonElement document, JsonElement schema, string[] path)
    {
        var known = Resolved(document, schema);
        if (IsNumber(known))
        {
            return [path];
        }

        if (known.TryGetProperty("items", out var items))
        {
            return Numbers(document, items, [.. path, "[]"]);
        }

        return known.TryGetProperty("properties", out var properties)
            ? properties.EnumerateObject().SelectMany(property => Numbers(document, property.Value, [.. path, property.Name]))
            : [];
    }

    private static JsonElement Resolved(JsonElement document, JsonElement schema)
    {
        if (schema.TryGetProperty("$ref", out var reference))
        {
            return Resolved(document, document.GetProperty("components").GetProperty("schemas")
                .GetProperty(reference.GetString()!.Split('/')[^1]));
        }

        return schema.TryGetProperty("oneOf", out var one)
            ? Resolved(document, one.EnumerateArray().First(part => !part.TryGetProperty("type", out var type) || !Is(type, "null")))
            : schema;
    }

    private static bool IsNumber(JsonElement schema) =>
        schema.TryGetProperty("type", out var type) && (Is(type, "number") || Is(type, "integer"));

    private static bool Is(JsonElement type, string word) => type.ValueKind == JsonValueKind.Array
        ? type.EnumerateArray().Any(one => one.GetString() == word)
        : type.GetString() == word;

    private static IEnumerable<(string Method, string Path, JsonElement Node)> Operations(JsonElement document) =>
        from path in document.GetProperty("paths").EnumerateObject()
        from operation in path.Value.EnumerateObject()
        select (operation.Name.ToUpperInvariant(), path.Name, operation.Value);

    [GeneratedRegex(@"\{(?<name>\w+)[^}]*\}")]
    private static partial Regex Braced();
}
