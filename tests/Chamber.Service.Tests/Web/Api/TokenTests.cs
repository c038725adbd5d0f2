using System.Net;
using System.Text.Json;
using Chamber.Service.Tests.Commands;
using Chamber.Testing;

namespace Chamber.Service.Tests.Web.Api;

/// <summary>Tokens made by the command line while the service runs, shown by a program on an address of the network.</summary>
public class TokenTests
{
    [Fact]
    public async Task A_program_that_may_write_lets_nobody_in_and_is_out_when_revoked()
    {
        await using var rig = await ApiRig.Start(ip: OwnAddress.Find());
        var made = await Made(rig, "tokens", "add", "automation", "--may", "write");
        var token = Shown(made);

        using var written = await rig.Call("POST", "/api/batches/T1/wettings", null, token);
        Assert.Equal(HttpStatusCode.OK, written.StatusCode);
        Assert.Equal("automation", await You(rig, token));
        foreach (var (method, path, body) in ((string, string, string?)[])[("GET", "/api/tokens", null),
            ("POST", "/api/tokens", """{ "for": "another" }"""), ("PUT", "/api/people/Eve", """{ "password": "four short words do" }"""),
            ("POST", "/api/guests", """{ "for": "Eve" }""")])
        {
            Assert.StartsWith("Only people let others in", (await rig.Problem(HttpStatusCode.Forbidden, method, path, body, token))
                .GetProperty("detail").GetString(), StringComparison.Ordinal);
        }

        Assert.Contains("automation  write", (await InProcess.Run("tokens", "--data", rig.Data)).Out, StringComparison.Ordinal);
        Assert.Equal(0, (await InProcess.Run("tokens", "remove", made.GetProperty("token").GetString()!, "--data", rig.Data)).Code);
        Assert.Equal("This token is not known here: it was taken back, or is mistyped.",
            (await rig.Problem(HttpStatusCode.Unauthorized, "POST", "/api/batches/T1/wettings", null, token))
            .GetProperty("detail").GetString());
    }

    [Fact]
    public async Task On_this_machine_a_program_that_shows_a_token_is_judged_by_it_too()
    {
        await using var rig = await ApiRig.Start();
        var token = Shown(await Made(rig, "tokens", "add", "the display on the shelf"));

        Assert.Equal("the display on the shelf", await You(rig, token));
        await rig.Problem(HttpStatusCode.Forbidden, "POST", "/api/batches/T1/wettings", null, token);
        await rig.Problem(HttpStatusCode.Unauthorized, "GET", "/api/batches", null, ("Authorization", "Bearer chamber_none"));

        // RFC 9110, section 15.5.2: an answer 401 says how to be let in.
        using var refused = await rig.Call("GET", "/api/batches", null, ("Authorization", "Bearer chamber_none"));
        Assert.Equal("Bearer", refused.Headers.WwwAuthenticate.Single().Scheme);
    }

    [Fact]
    public async Task A_guest_sees_the_home_and_no_metrics()
    {
        var token = "";
        await using var rig = await ApiRig.Start(gate =>
        {
            Assert.True(gate.SignUp(gate.OneTimeCode, "Ada", "four short words do", "test").Ok);
            token = gate.Invite("the neighbours").Token;
        }, OwnAddress.Find(), """ "telemetry": { "prometheus": true }, """);
        await rig.Visit(token);
        using var spots = await rig.Call("GET", "/api/spots");
        Assert.Equal(HttpStatusCode.OK, spots.StatusCode);
        using var metrics = await rig.Call("GET", "/metrics");
        Assert.NotEqual(HttpStatusCode.OK, metrics.StatusCode);

        await rig.ForgetSession();
        await rig.SignIn("Ada", "four short words do");
        using var seen = await rig.Call("GET", "/metrics");
        Assert.Equal(HttpStatusCode.OK, seen.StatusCode);
    }

    [Theory]
    [InlineData("--may", "everything", "is none of read, write")]
    [InlineData("--may", "read", "Say what it is for")]
    public async Task A_token_for_nothing_is_not_made(string option, string value, string words)
    {
        using var folder = new TempFolder();
        var outcome = await InProcess.Run("tokens", "add", value == "read" ? " " : "automation", option, value, "--data", folder.Path);
        Assert.Equal(2, outcome.Code);
        Assert.Contains(words, outcome.Error, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(folder.Path));
    }

    private static async Task<JsonElement> Made(ApiRig rig, params string[] arguments) =>
        JsonDocument.Parse((await InProcess.Run([.. arguments, "--json", "--data", rig.Data])).Out).RootElement;

    private static (string Name, string Value) Shown(JsonElement made) =>
        ("Authorization", $"Bearer {made.GetProperty("secret").GetString()}");

    private static async Task<string?> You(ApiRig rig, (string Name, string Value) token)
    {
        using var answer = await rig.Call("GET", "/api/home", null, token);
        return JsonDocument.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)).RootElement.GetProperty(
            "you").GetString();
    }
}
