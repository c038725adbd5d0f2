using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace Chamber.Service.Tests.Web.Api;

/// <summary>A slip in any operation: the member that is wrong is named, in words that know nothing of the program's types.</summary>
public partial class ApiSlipsTests
{
    private static readonly string[] OtherKinds = ["1.5", "\"slip\"", "true", "[]", "{}", "null", "[[1]]"];

    [Fact]
    public async Task No_operation_takes_a_parameter_that_it_does_not_have()
    {
        await using var rig = await ApiRig.Start();
        foreach (var (method, path, body, _) in ApiModuleTests.Calls.Where(call => call.Status != 415))
        {
            var problem = await rig.Problem(HttpStatusCode.BadRequest, method, $"{path}{(path.Contains('?') ? '&' : '?')}slip=1", body);
            Assert.Equal((path, "slip", "slip is not known here; see /openapi/v1.json."),
                (path, Field(problem), problem.GetProperty("detail").GetString()));
        }
    }

    [Theory]
    [InlineData("GET", "/api/alerts?al=true", "al", "all")]
    [InlineData("GET", "/api/dates?crops=tomato:12&lastFrost=2027-05-10", "crops", "crop")]
    [InlineData("GET", "/api/plan?plants=12&asurance=0.9", "asurance", "assurance")]
    [InlineData("GET", "/api/batches?asof=yesterday&all=true&alll=true", "alll", "all")]
    [InlineData("GET", "/api/today?aOf=yesterday", "aOf", "asOf")]
    [InlineData("DELETE", "/api/batches/T1/looks?att=yesterday", "att", "at")]
    public async Task A_slip_in_a_parameter_is_told_with_what_was_meant(string method, string path, string typed, string meant)
    {
        await using var rig = await ApiRig.Start();
        var problem = await rig.Problem(HttpStatusCode.BadRequest, method, path);
        Assert.Equal((typed, $"{typed} is not known here. Did you mean {meant}?"),
            (Field(problem), problem.GetProperty("detail").GetString()));
    }

    [Fact]
    public async Task No_operation_takes_a_member_that_it_does_not_have()
    {
        await using var rig = await ApiRig.Start();
        var tried = 0;
        foreach (var (method, path, body) in Bodies())
        {
            foreach (var at in Members(JsonNode.Parse(body)!, "").Where(member => !IsFree(path, member)).Select(Parent).Distinct())
            {
                var slip = at.Length == 0 ? "slip" : $"{at}.slip";
                var problem = await rig.Problem(HttpStatusCode.BadRequest, method, path, With(body, slip, "1"));
                Assert.Equal((path, body, slip), (path, body, Field(problem)));
                tried++;
            }
        }

        Assert.True(tried > 30, $"{tried} bodies were tried.");
        var near = await rig.Problem(HttpStatusCode.BadRequest, "POST", "/api/batches", """{ "crop": "tomato", "seds": 3 }""");
        Assert.Equal("seds is not known here. Did you mean seeds?", near.GetProperty("detail").GetString());
    }

    [Fact]
    public async Task A_value_of_another_kind_is_blamed_by_its_name()
    {
        await using var rig = await ApiRig.Start();
        var refused = 0;
        var wrong = new List<string>();
        foreach (var (method, path, body) in Bodies())
        {
            foreach (var member in Members(JsonNode.Parse(body)!, ""))
            {
                foreach (var other in OtherKinds)
                {
                    using var answer = await rig.Call(method, path, With(body, member, other));
                    var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
                    var said = $"{method} {path} {With(body, member, other)}: {(int)answer.StatusCode} {text}";
                    var isBad = answer.StatusCode == HttpStatusCode.BadRequest;
                    refused += isBad ? 1 : 0;
                    if ((int)answer.StatusCode >= 500 || ((int)answer.StatusCode >= 400 && OfTypes().IsMatch(text))
                        || (isBad && !Blames(path, member, Field(JsonDocument.Parse(text).RootElement))))
                    {
                        wrong.Add(said);
                    }
                }
            }
        }

        Assert.Empty(wrong);
        Assert.True(refused > 300, $"{refused} were refused.");
    }

    // Each body that an operation takes: another would be refused for something else. Who may come in is left alone, since the rest
    // would have to sign in.
    private static IEnumerable<(string Method, string Path, string Body)> Bodies() => ApiModuleTests.Calls
        .Where(call => call.Body is not null && call.Status < 300
            && !call.Path.StartsWith("/api/people", StringComparison.Ordinal))
        .Select(call => (call.Method, call.Path, call.Body!));

    // What an entry may hold depends on its kind, and a mapping is told by its topic: there the sentence names the member.
    private static bool Blames(string path, string member, string? field) => path == "/api/broker/mappings" && field == "topic"
        || field?.StartsWith(IsFree(path, member) ? Parent(member) : member, StringComparison.Ordinal) == true;

    // Whatever an entry holds may stand there.
    private static bool IsFree(string path, string member) =>
        path.StartsWith("/api/history/", StringComparison.Ordinal) && member.StartsWith("changes.", StringComparison.Ordinal);

    private static IEnumerable<string> Members(JsonNode node, string path) => node switch
    {
        JsonObject whole => whole.SelectMany(member =>
            Members(member.Value!, path.Length == 0 ? member.Key : $"{path}.{member.Key}").Prepend(path.Length == 0 ? member.Key
                : $"{path}.{member.Key}")),
        JsonArray { Count: > 0 } list when list[0] is JsonObject => Members(list[0]!, $"{path}[0]"),
        _ => [],
    };

    private static string Parent(string member) => member.LastIndexOf('.') is var dot and >= 0 ? member[..dot] : "";

    private static string With(string body, string member, string value)
    {
        var whole = JsonNode.Parse(body)!;
        var steps = member.Replace("[0]", ".0", StringComparison.Ordinal).Split('.', StringSplitOptions.RemoveEmptyEntries);
        var at = steps[..^1].Aggregate(whole, (node, step) => step == "0" ? node[0]! : node[step]!);
        at[steps[^1]] = JsonNode.Parse(value);
        return whole.ToJsonString();
    }

    private static string? Field(JsonElement problem) =>
        problem.TryGetProperty("errors", out var errors) ? errors.EnumerateObject().Single().Name : null;

    [GeneratedRegex(@"System\.|Chamber\.\w|\.NET|Int\d\d|Nullable|`|Exception|Request\b.*Request|LineNumber|Path: ")]
    private static partial Regex OfTypes();
}
