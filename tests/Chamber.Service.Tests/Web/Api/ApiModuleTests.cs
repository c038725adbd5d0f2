using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.OpenApi;
using Microsoft.OpenApi.Reader;

namespace Chamber.Service.Tests.Web.Api;

/// <summary>The HTTP API as the built program serves it, against its own OpenAPI document.</summary>
public class ApiModuleTests
{
    // In an order in which a grower could do it. Each operation of the document stands here at least once.
    internal static readonly (string Method, string Path, string? Body, int Status)[] Calls =
    [
        ("GET", "/api/home", null, 200),
        ("GET", "/api/settings", null, 200),
        ("PUT", "/api/settings/label-address", """{ "url": "http://pantry.local:8470" }""", 200),
        ("GET", "/api/spots", null, 200),
        ("PUT", "/api/spots/mat", """{ "kind": "heat-mat", "light": "dark", "room": 2 }""", 200),
        ("GET", "/api/spots/mat", null, 200),
        ("GET", "/api/spots/shelf/crops", null, 200),
        ("GET", "/api/spots/shelf/readings?from=yesterday&points=50", null, 200),
        ("POST", "/api/spots/mat/notes", """{ "text": "its cord is frayed", "at": "yesterday" }""", 200),
        ("PUT", "/api/spots/mat/limits", """{ "tooHot": "31C", "tooCold": "64F" }""", 200),
        ("POST", "/api/spots/mat/wettings", null, 409),
        ("DELETE", "/api/spots/mat", null, 204),
        ("GET", "/api/probes", null, 200),
        ("GET", "/api/probes/heard?since=yesterday", null, 200),
        ("PUT", "/api/probes/p2", """{ "measures": "air", "maxGap": "30min" }""", 200),
        ("GET", "/api/probes/p1", null, 200),
        ("GET", "/api/probes/p1/readings", null, 200),
        ("PUT", "/api/probes/p2/spot", """{ "spot": "sill", "at": "yesterday" }""", 200),
        ("DELETE", "/api/probes/p2/spot", null, 200),
        ("POST", "/api/readings", """{ "where": "sill", "temperature": "68F", "humidity": 45 }""", 200),
        ("POST", "/api/broker/listen", """{ "for": "1s" }""", 200),
        ("POST", "/api/broker/mappings",
            """{ "topic": "flat/{probe}/climate", "form": "json", "temperature": { "pointer": "/t", "unit": "Cel" } }""", 201),
        ("GET", "/api/cautions", null, 200),
        ("GET", "/api/cautions/heat-mat", null, 200),
        ("GET", "/api/crops", null, 200),
        ("GET", "/api/crops/sweet%20pepper", null, 200),
        ("GET", "/api/crops/basil/spots", null, 200),
        ("GET", "/api/crops/tomato/forecast?spot=shelf&seeds=12", null, 200),
        ("GET", "/api/crops/tomato/warm-hours?spot=shelf", null, 200),
        ("POST", "/api/batches",
            """{ "crop": "tomato", "seeds": 10, "spot": "shelf", "lot": "tomato-24", "name": "T2", "at": "yesterday", "containers": 2 }""",
            201),
        ("GET", "/api/batches?all=true", null, 200),
        ("GET", "/api/batches/T1", null, 200),
        ("POST", "/api/batches/T1/looks", """{ "up": 0, "at": "2 days ago" }""", 400),
        ("POST", "/api/batches/T1/looks", """{ "up": 5, "note": "strong" }""", 200),
        ("GET", "/api/batches/T1/forecast", null, 200),
        ("GET", "/api/batches/T1/forecast-history", null, 200),
        ("GET", "/api/batches/T1/what-if?spot=sill&warmer=-2", null, 200),
        ("GET", "/api/batches/T1/what-if?warmer=90", null, 400),
        ("GET", "/api/batches/T1/warm-hours", null, 200),
        ("GET", "/api/batches/T1/readings?points=100", null, 200),
        ("GET", "/api/batches/T1/review", null, 200),
        ("GET", "/api/batches/T1/review.html", null, 200),
        ("POST", "/api/batches/T1/stages", """{ "done": "movedToLight", "spot": "sill", "plants": 5 }""", 200),
        ("POST", "/api/batches/T1/losses", """{ "plants": 1, "cause": "damping-off" }""", 200),
        ("POST", "/api/batches/T1/wettings", null, 200),
        ("POST", "/api/batches/T1/notes", """{ "text": "turned round" }""", 200),
        ("PUT", "/api/batches/T1/limits", """{ "tooCold": "17.5C" }""", 200),
        ("GET", "/api/batches/T1/photos", null, 200),
        ("POST", "/api/batches/T1/photos", """{ "no": "photo" }""", 415),
        ("GET", "/api/batches/T1/photos/00112233445566778899.jpg?small=true", null, 404),
        ("PUT", "/api/batches/T1/photos/00112233445566778899.jpg/marks", """[{ "seedling": 1, "x": 0.5, "y": 0.5 }]""", 409),
        ("DELETE", "/api/batches/T1/photos/00112233445566778899.jpg", null, 409),
        ("DELETE", "/api/batches/T1/stages?at=2020-01-01", null, 409),
        ("DELETE", "/api/batches/T1/losses?at=2020-01-01", null, 409),
        ("PUT", "/api/batches/T1/spot", """{ "spot": "shelf" }""", 200),
        ("PUT", "/api/batches/T1/plant-out", """{ "day": "2099-05-17" }""", 200),
        ("PUT", "/api/history/spot/sill/shown", """{ "shown": "Küche, oben" }""", 200),
        ("PUT", "/api/history/lot/tomato-24/shown", """{ "shown": "rot" }""", 409),
        ("GET", "/api/shown-names", null, 200),
        ("PUT", "/api/history/spot/sill/shown", "{}", 200),
        ("PUT", "/api/maintenance", """{ "spot": "shelf", "for": "2h" }""", 200),
        ("GET", "/api/maintenance", null, 200),
        ("DELETE", "/api/maintenance?spot=shelf", null, 204),
        ("DELETE", "/api/maintenance?spot=attic", null, 400),
        ("GET", "/api/learned", null, 200),
        ("POST", "/api/trials", """{ "rows": [{ "temperature": "20C", "from": "3", "to": "2", "count": "5" }] }""", 400),
        ("POST", "/api/trials",
            """
            { "rows": [{ "temperature": "18C", "from": "7", "to": "8", "count": "9" }, { "temperature": "18C", "from": "8", "to": "10", "count": "9" },
              { "temperature": "22C", "from": "4", "to": "5", "count": "8" }, { "temperature": "22C", "from": "5", "to": "7", "count": "10" },
              { "temperature": "26C", "from": "3", "to": "4", "count": "9" }, { "temperature": "26C", "from": "4", "to": null, "count": "2" }],
              "save": "our-tomato", "poisonous": "no" }
            """, 200),
        ("PUT", "/api/settings/hub", """{ "prefix": "hub/+" }""", 400),
        ("PUT", "/api/settings/hub", """{ "prefix": "hub" }""", 200),
        ("DELETE", "/api/settings/hub", null, 204),
        ("GET", "/api/home-network", null, 200),
        ("PUT", "/api/home-network", """{ "name": "Ada L", "password": "short" }""", 400),
        ("POST", "/api/home-network/sensors", """{ "name": "attic" }""", 409),
        ("DELETE", "/api/home-network/sensors/attic", null, 404),
        ("DELETE", "/api/home-network", null, 204),
        ("GET", "/api/today", null, 200),
        ("GET", "/api/reminders?days=60", null, 200),
        ("GET", "/api/week", null, 200),
        ("GET", "/api/lots", null, 200),
        ("PUT", "/api/lots/onion-25", """{ "crop": "onion", "seeds": 60, "year": 2025, "storage": "cool-room" }""", 200),
        ("GET", "/api/lots/onion-25", null, 200),
        ("GET", "/api/lots/onion-25/test-plan?question=alive-or-dead", null, 200),
        ("POST", "/api/lots/onion-25/count", """{ "seeds": 55 }""", 200),
        ("POST", "/api/lots/onion-25/tests", """{ "good": 16, "seeds": 20 }""", 200),
        ("POST", "/api/lots/onion-25/running-tests", """{ "spot": "shelf", "seeds": 10 }""", 201),
        ("POST", "/api/batches/O1/test-result", """{ "good": 8 }""", 200),
        ("PUT", "/api/lots/leek-26", """{ "crop": "leek", "seeds": 5 }""", 200),
        ("DELETE", "/api/lots/leek-26", null, 204),
        ("POST", "/api/batches/T2/end", null, 200),
        ("DELETE", "/api/batches/T2/end", null, 200),
        ("GET", "/api/hindsight", null, 200),
        ("GET", "/api/season-plan", null, 200),
        ("PUT", "/api/season-plan",
            """{ "lastFrost": "2027-05-10", "spot": "shelf", "lightRoom": 12, "mixPrice": 0.4, "rows": [{ "crop": "tomato", "plants": 6, "lot": "tomato-24" }] }""", 200),
        ("GET", "/api/plan?plants=12&germination=0.8&assurance=0.95", null, 200),
        ("GET", "/api/dates?crop=tomato:12&crop=basil:6&lastFrost=2027-05-10&spot=shelf", null, 200),
        ("GET", "/api/place?crop=tomato:2&newOnly=true", null, 200),
        ("GET", "/api/season?boughtPrice=2.50", null, 200),
        ("GET", "/api/compare?counts=11/14&counts=7/15", null, 200),
        ("GET", "/api/alerts?all=true", null, 200),
        ("GET", "/api/alerts/1", null, 200),
        ("POST", "/api/alerts/1/seen", """{ "by": "Ada" }""", 200),
        ("POST", "/api/alerts/1/mute", """{ "for": "2h" }""", 200),
        ("GET", "/api/labels.pdf?batch=T1&size=stick", null, 200),
        ("GET", "/api/calendar.ics", null, 200),
        ("GET", "/api/export", null, 200),
        ("GET", "/api/export.zip", null, 200),
        ("POST", "/api/backups", null, 201),
        ("GET", "/api/backups", null, 200),
        ("GET", "/api/backups/none.db", null, 404),
        ("POST", "/api/batches/T1/looks", """{ "up": 4 }""", 409),
        ("PUT", "/api/probes/p2/unit", """{ "unit": "F" }""", 200),
        ("POST", "/api/probes/p1/calibrations", """{ "way": "soakedMix", "raw": 812, "since": "yesterday" }""", 200),
        ("GET", "/api/calibrations", null, 200),
        ("GET", "/api/probes/p1/calibrations", null, 200),
        ("DELETE", "/api/probes/p1/calibrations/last", null, 204),
        ("PUT", "/api/crops/yard-tomato", """{ "like": "tomato", "low": "67F", "high": "75F", "source": "three springs" }""", 200),
        ("GET", "/api/crops?own=true", null, 200),
        ("DELETE", "/api/crops/yard-tomato", null, 204),
        ("PUT", "/api/notices/set-up/email",
            """{ "host": "127.0.0.1", "port": 9, "security": "when-offered", "from": "chamber@example.org", "to": ["you@example.org"], "user": "you", "password": "s3cret" }""", 200),
        ("PUT", "/api/notices/set-up/webhook", """{ "url": "http://127.0.0.1:9/chamber", "secret": "s3cret, sixteen of them" }""", 200),
        ("PUT", "/api/notices/set-up/web-push", """{ "contact": "mailto:you@example.org" }""", 200),
        ("PUT", "/api/notices/set-up/telling",
            """{ "digestAt": "07:30", "quietFrom": "22:00", "quietTo": "07:00", "pageLink": "https://chamber.home" }""", 200),
        ("GET", "/api/notices/set-up", null, 200),
        ("POST", "/api/notices/test?channel=webhook", null, 200),
        ("POST", "/api/notices/browsers",
            $$"""{ "endpoint": "https://push.example.org/1", "publicKey": "BGsX0fLhLEJH-Lzm5WOkQPJ3A32BLeszoPShOUXYmMKWT-NC4v4af5uO5-tKfA-eFivOM1drMV7Oy7ZAaDe_UfU", "secret": "{{new string('A', 22)}}", "note": "kitchen" }""", 201),
        ("GET", "/api/notices/browsers", null, 200),
        ("DELETE", "/api/notices/browsers/none", null, 404),
        ("DELETE", "/api/notices/set-up/web-push", null, 200),
        ("GET", "/api/notices", null, 200),
        ("POST", "/api/notices/99/resend", null, 404),
        ("DELETE", "/api/notices/99", null, 404),
        ("GET", "/api/history?last=5", null, 200),
        ("GET", "/api/history/1", null, 200),
        ("GET", "/api/history/batch/T1", null, 200),
        ("POST", "/api/history/undo", null, 200),
        ("PATCH", "/api/history/1", """{ "changes": { "room": 3 } }""", 200),
        ("DELETE", "/api/history/99999", null, 409),
        ("DELETE", "/api/history/batch/none", null, 404),
        ("POST", "/api/history/lot/onion-25/rename", """{ "to": "onion-a" }""", 200),
        ("POST", "/api/probes/p1/set-aside", """{ "from": "2026-03-01", "to": "2026-03-02", "why": "spilt" }""", 200),
        ("PUT", "/api/people/Ada%20L", """{ "password": "four short words do" }""", 200),
        ("GET", "/api/people", null, 200),
        ("DELETE", "/api/people/Ada%20L", null, 204),
        ("POST", "/api/guests", """{ "for": "the neighbours" }""", 201),
        ("GET", "/api/guests", null, 200),
        ("DELETE", "/api/guests/none", null, 404),
        ("POST", "/api/tokens", """{ "for": "automation", "may": "write" }""", 201),
        ("GET", "/api/tokens", null, 200),
        ("DELETE", "/api/tokens/none", null, 404),
        ("GET", "/api/service", null, 200),
        ("GET", "/api/refusals?last=5", null, 200),
        ("GET", "/api/restore", null, 200),
        ("DELETE", "/api/restore", null, 204),
        ("POST", "/api/sign-in", """{ "name": "Ada", "password": "wrong" }""", 401),
        ("POST", "/api/sign-out", null, 204),
    ];

    [Fact]
    public async Task Every_operation_of_the_document_is_there_and_answers_as_it_says()
    {
        await using var rig = await ApiRig.Start();
        var text = (await rig.Json("GET", "/openapi/v1.json")).GetRawText();
        AssertValid(text);
        var document = JsonDocument.Parse(text).RootElement;
        var called = new HashSet<string>();
        foreach (var (method, path, body, status) in Calls)
        {
            called.Add(await Call(rig, document, method, path, body, status));
            if (path.StartsWith("/api/people/", StringComparison.Ordinal))
            {
                // From the first who signs up until the last is gone, everybody signs in.
                await (method == "PUT" ? rig.SignIn("Ada L", "four short words do") : rig.ForgetSession());
            }
        }

        called.Add(await TakeBackTheLook(rig, document));
        var backup = (await rig.Json("GET", "/api/backups"))[0].GetProperty("file").GetString()!;
        called.Add(await Call(rig, document, "GET", $"/api/backups/{backup}", null, 200));
        called.Add(await Call(rig, document, "POST", $"/api/backups/{backup}/restore", null, 200));
        called.Add(await Call(rig, document, "POST", "/api/service/stop", null, 202));
        Assert.Empty(Operations(document).Select(operation => operation.Name).Except(called));
        await rig.Ended();
    }

    // The reader is the one of the OpenAPI project, and reports what breaks the specification.
    private static void AssertValid(string text)
    {
        var read = OpenApiModelFactory.Parse(text, "json", new OpenApiReaderSettings { RuleSet = ValidationRuleSet.GetDefaultRuleSet() });
        Assert.Empty(read.Diagnostic!.Errors);
        Assert.Empty(read.Diagnostic.Warnings);
        Assert.All(read.Document!.Paths.SelectMany(path => path.Value.Operations!.Values),
            operation => Assert.False(string.IsNullOrEmpty(operation.Summary)));
    }

    private static async Task<string> TakeBackTheLook(ApiRig rig, JsonElement document)
    {
        await Call(rig, document, "POST", "/api/batches/T2/looks", """{ "up": 2 }""", 200);
        var whole = await rig.Json("GET", "/api/batches/T2");
        var at = whole.GetProperty("looks")[0].GetProperty("at").GetString()!;
        return await Call(rig, document, "DELETE", $"/api/batches/T2/looks?at={Uri.EscapeDataString(at)}", null, 200);
    }

    private static async Task<string> Call(ApiRig rig, JsonElement document, string method, string path, string? body, int status)
    {
        var operation = Operations(document).First(known => known.Fits(method, path.Split('?')[0]));
        using var answer = await rig.Call(method, path, body);
        var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True((int)answer.StatusCode == status, $"{method} {path}: {(int)answer.StatusCode} {text}");
        Assert.True(operation.Node.GetProperty("responses").TryGetProperty($"{status}", out var response),
            $"{operation.Name} does not say that it may answer {status}.");
        if (text.Length > 0)
        {
            AssertAsDescribed(document, response, answer.Content.Headers.ContentType!.MediaType!, text, operation.Name);
        }

        return operation.Name;
    }

    private static void AssertAsDescribed(JsonElement document, JsonElement response, string type, string text, string name)
    {
        Assert.True(response.GetProperty("content").TryGetProperty(type, out var content),
            $"{name} answers {type}, which it does not say.");
        if (type.EndsWith("json", StringComparison.Ordinal))
        {
            Assert.Null(JsonShape.Wrong(document, content.GetProperty("schema"), JsonDocument.Parse(text).RootElement, name));
        }
    }

    private static IEnumerable<Operation> Operations(JsonElement document) =>
        from path in document.GetProperty("paths").EnumerateObject()
        from operation in path.Value.EnumerateObject()
        select new Operation(operation.Name.ToUpperInvariant(), path.Name, operation.Value);

    private sealed record Operation(string Method, string Path, JsonElement Node)
    {
        public string Name => $"{Method} {Path}";

        // Its own place in the document wins over one with a parameter: it stands before it there or has fewer braces.
        public bool Fits(string method, string path) =>
            Method == method && Regex.IsMatch(path,
                $"^{Regex.Replace(Regex.Escape(Path).Replace("\\{", "{", StringComparison.Ordinal), "{[^}]*}", "[^/]+")}$")
            && (Path == path || Path.Contains('{', StringComparison.Ordinal));
    }
}
