using System.Net;
using System.Text.Json;

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
            Assert.Equal((path, body, field), (path, body, problem.TryGetProperty("errors", out var errors) ? errors.EnumerateObject().Single().Name : null));
        }

        // Nothing of all that was written down.
        Assert.Single((await rig.Json("GET", "/api/batches")).EnumerateArray());
    }

    [Fact]
    public async Task A_page_from_elsewhere_may_not_write_and_a_program_may()
    {
        await using var rig = await ApiRig.Start();
        foreach (var header in ((string, string)[])[("Sec-Fetch-Site", "cross-site"), ("Sec-Fetch-Site", "same-site"), ("Origin", "http://example.org"), ("Origin", "null")])
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
        Assert.StartsWith("Sign in first", (await rig.Problem(HttpStatusCode.Unauthorized, "GET", "/api/batches", null, far)).GetProperty("detail").GetString(), StringComparison.Ordinal);
        await rig.Problem(HttpStatusCode.Unauthorized, "POST", "/api/sign-in", """{ "name": "Ada", "password": "four long words do" }""", far);

        using var signedIn = await rig.Call("POST", "/api/sign-in", JsonSerializer.Serialize(new { name = "Ada", password = Password }), far);
        Assert.Equal(HttpStatusCode.NoContent, signedIn.StatusCode);
        using var written = await rig.Call("POST", "/api/batches/T1/wettings", null, far, ("Cookie", Cookie(signedIn)));
        Assert.Equal(HttpStatusCode.OK, written.StatusCode);

        using var guest = await rig.Call("GET", $"/guest/{token}", null, far);
        using var looked = await rig.Call("GET", "/api/batches", null, far, ("Cookie", Cookie(guest)));
        Assert.Equal(HttpStatusCode.OK, looked.StatusCode);
        Assert.Equal("You may look here and change nothing.", (await rig.Problem(HttpStatusCode.Forbidden, "POST", "/api/batches/T1/wettings", null, far, ("Cookie", Cookie(guest)))).GetProperty("detail").GetString());
        await rig.Problem(HttpStatusCode.Forbidden, "GET", "/api/backups", null, far, ("Cookie", Cookie(guest)));
    }

    private static string Cookie(HttpResponseMessage answer) => answer.Headers.GetValues("Set-Cookie").First(cookie => cookie.StartsWith("chamber=", StringComparison.Ordinal)).Split(';')[0];

    private static readonly (HttpStatusCode Status, string Method, string Path, string? Body, string? Field, string Sentence)[] Refusals =
    [
        (HttpStatusCode.NotFound, "GET", "/api/nothing", null, null, "There is nothing at /api/nothing; see /openapi/v1.json."),
        (HttpStatusCode.NotFound, "GET", "/api/batches/Z9", null, null, "There is no batch \"Z9\"."),
        (HttpStatusCode.NotFound, "GET", "/api/crops/tomatoe", null, null, "\"tomatoe\" is not in the crop catalog. Did you mean tomato?"),
        (HttpStatusCode.MethodNotAllowed, "DELETE", "/api/crops", null, null, "DELETE is not for /api/crops; see /openapi/v1.json."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", null, null, "The body is missing: send one JSON object, with Content-Type: application/json."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", "{ nope", null, "The body is not JSON."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", """{ "crop": "tomato", "spot": "shelf" }""", "seeds", "seeds is missing."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", """{ "crop": "tomato", "spot": "shelf", "seeds": 3, "hop": 1 }""", "hop", "hop is not known here; see /openapi/v1.json."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", """{ "crop": "tomato", "spot": "shelf", "seeds": 0 }""", "seeds", "seeds: 0 is too few; write at least 1."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", """{ "crop": "tomato", "spot": "attic", "seeds": 3 }""", "spot", "There is no spot \"attic\"; there are shelf, sill."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", """{ "crop": "tomato", "spot": "shelf", "seeds": 3, "method": "roof" }""", "method", "method: \"roof\" is none of coveredMix, openMix, dampTowel."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches", """{ "crop": "tomato", "spot": "shelf", "seeds": 3, "name": "a/b" }""", "name", "name: \"a/b\" cannot name a batch: use 1 to 48 letters, digits, '-', '_' or '.', starting with a letter or digit."),
        (HttpStatusCode.BadRequest, "POST", "/api/batches/T1/looks", """{ "up": 1, "at": "soon" }""", "at", "\"soon\" is not a time: write 07:40, 2026-03-01, \"2026-03-01 07:40\" or 2026-03-01T07:40:00Z."),
        (HttpStatusCode.Conflict, "POST", "/api/batches/T1/looks", """{ "up": 13 }""", "up", "T1: 13 up of 12 sown cannot be; correct the count, or the number of seeds of the batch."),
        (HttpStatusCode.Conflict, "POST", "/api/batches", """{ "crop": "tomato", "spot": "shelf", "seeds": 49, "lot": "tomato-24" }""", "seeds", "lot tomato-24 has 48 seeds left, so 49 cannot be sown: sow fewer, or count again and correct the lot."),
        (HttpStatusCode.Conflict, "DELETE", "/api/spots/shelf", null, null, "Probes or batches have stood on \"shelf\", and their history needs it; it stays."),
        (HttpStatusCode.BadRequest, "POST", "/api/readings", """{ "where": "shelf", "temperature": "80" }""", "temperature", "\"80\" has no unit: write 80C or 80F."),
        (HttpStatusCode.BadRequest, "GET", "/api/reminders?days=x", null, "days", "days: \"x\" is not a whole number."),
        (HttpStatusCode.BadRequest, "GET", "/api/plan?plants=x", null, "plants", "plants: \"x\" is not a whole number."),
        (HttpStatusCode.BadRequest, "GET", "/api/dates?crop=tomato:12", null, "lastFrost", "lastFrost is missing."),
        (HttpStatusCode.BadRequest, "GET", "/api/spots/shelf/readings?points=1", null, "points", "points: write a number from 2 to 10000."),
        (HttpStatusCode.NotFound, "GET", "/api/backups/..%2Fchamber.db", null, null, "There is no backup \"..%2Fchamber.db\"."),
    ];
}
