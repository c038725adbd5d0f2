using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using Chamber.Service.Access;
using Chamber.Testing;

namespace Chamber.Service.Tests.Web.Api;

/// <summary>Whatever is refused comes as problem details (RFC 9457) with the sentence that the command line says.</summary>
public class ApiProblemsTests
{
    private const string Password = "four short words do";

    [Fact]
    public async Task What_cannot_be_is_refused_with_its_field_and_one_sentence()
    {
        await using var rig = await ApiRig.Start();
        foreach (var (status, method, path, body, field, sentence) in Refusals)
        {
            var problem = await rig.Problem(status, method, path, body);
            Assert.Equal("about:blank", problem.GetProperty("type").GetString());
            Assert.Equal((int)status, problem.GetProperty("status").GetInt32());
            Assert.False(string.IsNullOrEmpty(problem.GetProperty("title").GetString()));
            Assert.Equal(path.Split('?')[0], problem.GetProperty("instance").GetString());
            Assert.Equal((path, body, sentence), (path, body, problem.GetProperty("detail").GetString()));
            Assert.Equal((path, body, field),
                (path, body, problem.TryGetProperty("errors", out var errors) ? errors.EnumerateObject().Single().Name : null));
        }

        // Nothing of all that was recorded.
        Assert.Single((await rig.Json("GET", "/api/batches")).EnumerateArray());
    }

    [Fact]
    public async Task A_page_from_elsewhere_may_not_write_and_a_program_may()
    {
        await using var rig = await ApiRig.Start();
        foreach (var header in ((string, string)[])[("Sec-Fetch-Site", "cross-site"), ("Sec-Fetch-Site", "same-site"),
            ("Origin", "http://example.org"), ("Origin", "null")])
        {
            await rig.Problem(HttpStatusCode.Forbidden, "POST", "/api/batches/T1/wettings", null, header);
        }

        Assert.Empty((await rig.Json("GET", "/api/batches/T1")).GetProperty("wettings").EnumerateArray());
        using var own = await rig.Call("POST", "/api/batches/T1/wettings", null, ("Sec-Fetch-Site", "same-origin"));
        Assert.Equal(HttpStatusCode.OK, own.StatusCode);
    }

    [Fact]
    public async Task From_elsewhere_people_sign_in_and_guests_only_look()
    {
        var token = string.Empty;
        await using var rig = await ApiRig.Start(gate =>
        {
            gate.Add("Ada", Password);
            token = gate.Invite("the neighbours").Token;
        });

        // A request that came through a proxy is never taken as one from this machine.
        (string, string) far = ("X-Forwarded-For", "192.0.2.7");
        Assert.StartsWith("Sign in first", (await rig.Problem(HttpStatusCode.Unauthorized, "GET", "/api/batches", null, far))
            .GetProperty("detail").GetString(), StringComparison.Ordinal);
        await rig.Problem(HttpStatusCode.Unauthorized, "POST", "/api/sign-in",
            """{ "name": "Ada", "password": "four long words do" }""", far);

        using var signedIn = await rig.Call("POST", "/api/sign-in",
            JsonSerializer.Serialize(new { name = "Ada", password = Password }), far);
        Assert.Equal(HttpStatusCode.NoContent, signedIn.StatusCode);
        using var written = await rig.Call("POST", "/api/batches/T1/wettings", null, far, ("Cookie", Cookie(signedIn)));
        Assert.Equal(HttpStatusCode.OK, written.StatusCode);

        using var guest = await rig.Call("GET", $"/guest/{token}", null, far);
        using var looked = await rig.Call("GET", "/api/batches", null, far, ("Cookie", Cookie(guest)));
        Assert.Equal(HttpStatusCode.OK, looked.StatusCode);
        Assert.Equal("You may look here and change nothing.",
            (await rig.Problem(HttpStatusCode.Forbidden, "POST", "/api/batches/T1/wettings", null, far, ("Cookie", Cookie(guest))))
            .GetProperty("detail").GetString());
        await rig.Problem(HttpStatusCode.Forbidden, "GET", "/api/backups", null, far, ("Cookie", Cookie(guest)));
    }

    [Fact]
    public async Task Strangers_get_in_nowhere_and_who_may_only_read_changes_nothing()
    {
        var token = string.Empty;
        var program = string.Empty;
        await using var rig = await ApiRig.Start(
            gate =>
            {
                token = gate.Invite("the neighbours").Token;
                program = gate.LetIn("the display", ProgramMay.Read).Token;
            },
            OwnAddress.Find());
        using var entered = await rig.Call("GET", $"/guest/{token}");
        (string, string) guest = ("Cookie", Cookie(entered));
        (string, string) reader = ("Authorization", $"Bearer {program}");
        using var described = await rig.Call("GET", "/openapi/v1.json", null, reader);
        var document = JsonDocument.Parse(await described.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)).RootElement;
        var (open, closed) = (0, 0);
        foreach (var path in document.GetProperty("paths").EnumerateObject()
            .Where(path => !path.Name.StartsWith("/api/sign-", StringComparison.Ordinal)))
        {
            foreach (var operation in path.Value.EnumerateObject())
            {
                var (method, address) = (operation.Name.ToUpperInvariant(), Regex.Replace(path.Name, "{[^}]*}", "1"));
                await rig.Problem(HttpStatusCode.Unauthorized, method, address);
                using var answer = await rig.Call(method, address, null, guest);
                using var same = await rig.Call(method, address, null, reader);
                Assert.Equal((method, address, answer.StatusCode), (method, address, same.StatusCode));
                var mayNot = operation.Value.GetProperty("responses").TryGetProperty("403", out _);
                Assert.True(mayNot == (answer.StatusCode == HttpStatusCode.Forbidden), $"{method} {address}: {(int)answer.StatusCode}");
                Assert.True(mayNot || method == "GET", $"{method} {address} is open to guests.");
                (open, closed) = mayNot ? (open, closed + 1) : (open + 1, closed);
            }
        }

        // A walk that found nothing to try would prove nothing.
        Assert.True(open > 30 && closed > 50, $"{open} open, {closed} closed");
    }

    private static string Cookie(HttpResponseMessage answer) =>
        answer.Headers.GetValues("Set-Cookie").First(cookie => cookie.StartsWith("chamber=", StringComparison.Ordinal)).Split(';')[0];

    private static readonly (HttpStatusCode Status, string Method, string Path, string? Body, string? Field, string Sentence)[] Refusals =
    [
        (HttpStatusCode.NotFound, "GET", "/api/nothing", null, null, "There is nothing at /api/nothing; see /openapi/v1.json."),
        (HttpStatusCode.NotFound, "GET", "/api/batches/Z9", null, null, "There is no batch \"Z9\"."),
        (HttpStatusCode.NotFound, "GET", "/api/crops/tomatoe", null, null, "\"tomatoe\" is not in the crop catalog. Did you mean tomato?"),
        (HttpStatusCode.MethodNotAllowed, "DELETE", "/api/crops", null, null, "DELETE is not for /api/crops; see /openapi/v1.json."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", null, null,
            "The body is missing: send one JSON object, with Content-Type: application/json."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", "{ nope", null, "The body is not JSON."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", """{ "crop": "tomato", "spot": "shelf" }""", "seeds", "seeds is missing."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", """{ "crop": "tomato", "spot": "shelf", "seeds": 3, "hop": 1 }""", "hop",
            "hop is not known here; see /openapi/v1.json."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", """{ "crop": "tomato", "spot": "shelf", "seeds": 0 }""", "seeds",
            "0 is outside 1 to 10,000 for the seeds of a batch: a home sows no more at once; write a larger sowing down as "
            + "several batches."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", """{ "crop": "tomato", "spot": "attic", "seeds": 3 }""", "spot",
            "There is no spot \"attic\"; there are shelf, sill."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", """{ "crop": "tomato", "spot": "shelf", "seeds": 3, "method": "roof" }""",
            "method", "method: \"roof\" is none of coveredMix, openMix, dampTowel."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", """{ "crop": "tomato", "spot": "shelf", "seeds": 3, "name": "a/b" }""", "name",
            "name: \"a/b\" cannot name a batch: use 1 to 48 letters, digits, '-', '_' or '.', starting with a letter or digit."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches/T1/looks", """{ "up": 1, "at": "soon" }""", "at",
            "\"soon\" is not a time: write 07:40, 2026-03-01, \"2026-03-01 07:40\" or 2026-03-01T07:40:00Z."),
        (HttpStatusCode.Conflict, "POST", "/api/batches/T1/looks", """{ "up": 13 }""", "up",
            "T1: more up (13) than sown (12); correct the count, or the number of seeds of the batch."),
        (HttpStatusCode.Conflict, "DELETE", "/api/spots/shelf", null, null,
            "Entry 4 rests on that (probe p1 put on shelf): There is no spot \"shelf\"; set it up first."),
        (HttpStatusCode.BadRequest, "POST", "/api/readings", """{ "where": "shelf", "temperature": "72" }""", "temperature",
            "\"72\" has no unit: write 72C or 72F."),
        (HttpStatusCode.BadRequest, "GET", "/api/reminders?days=x", null, "days", "days: \"x\" is not a whole number."),
        (HttpStatusCode.BadRequest, "GET", "/api/plan?plants=x", null, "plants", "plants: \"x\" is not a whole number."),
        (HttpStatusCode.BadRequest, "GET", "/api/dates?crop=tomato:12", null, "lastFrost", "lastFrost is missing."),
        (HttpStatusCode.BadRequest, "GET", "/api/spots/shelf/readings?points=1", null, "points",
            "1 is outside 2 to 10,000 for the points of a chart: no screen has more."),
        (HttpStatusCode.NotFound, "POST", "/api/probes/p9/calibrations", """{ "way": "iceWater" }""", null,
            "There is no probe \"p9\". Did you mean p1?"),
        (HttpStatusCode.BadRequest, "POST", "/api/probes/p1/calibrations", """{ "way": "sideBySide" }""", "against",
            "against is missing: name the probe to trust."),
        (HttpStatusCode.BadRequest, "POST", "/api/probes/p1/calibrations", """{ "way": "sideBySide", "against": "p1" }""", "against",
            "p1 cannot be compared with itself: name another probe to trust."),
        (HttpStatusCode.Conflict, "DELETE", "/api/probes/p1/calibrations/last", null, null, "p1 is not calibrated yet."),
        (HttpStatusCode.BadRequest, "PUT", "/api/crops/yard-tomato", """{ "low": "19C", "high": "24C" }""", "like",
            "\"yard-tomato\" is not in the crop catalog: to add it, name in like a crop that it is like."),
        (HttpStatusCode.BadRequest, "PUT", "/api/crops/tomato", """{ "low": "24C", "high": "19C" }""", "low",
            "The band runs from 24C to 19C: the first must be the cooler one."),
        (HttpStatusCode.NotFound, "DELETE", "/api/crops/tomato", null, null, "There is no crop \"tomato\" of your own."),
        (HttpStatusCode.BadRequest, "PUT", "/api/probes/p1/unit", """{ "unit": "K" }""", "unit",
            "unit: \"K\" is not a unit: write C or F."),
        (HttpStatusCode.Conflict, "POST", "/api/notices/test", null, null,
            "No channel is set up: set up e-mail, a webhook or Web Push on the page, or under \"notices\" in chamber.json "
            + "(docs/notices.md); a browser must also have asked for notices, on the page."),
        (HttpStatusCode.BadRequest, "PUT", "/api/notices/set-up/email", """{ "host": "mail", "from": "a@b.example", "to": [] }""", "to",
            "to is empty: name at least one mail address, such as [\"you@example.org\"]."),
        (HttpStatusCode.BadRequest, "PUT", "/api/notices/set-up/telling", """{ "digestAt": "7 am" }""", "digestAt",
            "digestAt: \"7 am\" is not a time of day: write HH:MM, such as 22:00."),
        (HttpStatusCode.NotFound, "DELETE", "/api/notices/set-up/pigeon", null, null,
            "There is no channel \"pigeon\"; there are email, webhook and webPush."),
        (HttpStatusCode.BadRequest, "POST", "/api/notices/browsers",
            $$"""{ "endpoint": "https://push.example.org/1", "publicKey": "{{new string('A', 87)}}", "secret": "{{new string('A', 22)}}" }""",
            "publicKey", "publicKey is no point of the curve P-256 (RFC 8291), so nothing could be encrypted for this browser: let it ask again."),
        (HttpStatusCode.BadRequest, "POST", "/api/notices/browsers",
            """{ "endpoint": "https://push.example.org/1", "publicKey": "AAAA", "secret": "AAAA" }""", "publicKey",
            "publicKey must be 65 bytes in base64url, as the browser gives it."),
        (HttpStatusCode.BadRequest, "PUT", "/api/people/Ada", """{ "password": "short" }""", "password",
            "Choose a password of at least 10 characters; four short words do well."),
        (HttpStatusCode.NotFound, "DELETE", "/api/people/Ada", null, null, "There is no Ada."),
        (HttpStatusCode.BadRequest, "POST", "/api/guests", """{ "for": " " }""", "for", "Say what it is for, in 1 to 60 characters."),
        (HttpStatusCode.BadRequest, "GET", "/api/refusals?last=0", null, "last",
            "0 is outside 1 to 10,000 for the refusals to show: older ones are counted, and no longer kept."),
        (HttpStatusCode.NotFound, "GET", "/api/backups/..%2Fchamber.db", null, null, "There is no backup \"..%2Fchamber.db\"."),
    ];
}
