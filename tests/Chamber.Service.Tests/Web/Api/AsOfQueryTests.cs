using System.Globalization;
using System.Net;

namespace Chamber.Service.Tests.Web.Api;

/// <summary>Every question of the API can be asked as of a time.</summary>
public class AsOfQueryTests
{
    [Fact]
    public async Task A_question_as_of_a_time_is_answered_from_what_was_known_then()
    {
        await using var rig = await ApiRig.Start();
        var then = (await rig.Json("GET", "/api/home")).GetProperty("now").GetString()!;
        var said = (await rig.Json("GET", $"/api/batches/T1?asOf={then}")).GetRawText();
        await rig.Json("POST", "/api/batches/T1/looks", """{ "up": 5, "note": "for asOf" }""");
        await rig.Json("POST", "/api/history/batch/T1/rename", """{ "to": "T1b" }""");

        Assert.Equal(said, (await rig.Json("GET", $"/api/batches/T1?asOf={then}")).GetRawText());
        Assert.Contains("for asOf", (await rig.Json("GET", "/api/batches/T1b")).GetRawText(), StringComparison.Ordinal);
        await rig.Problem(HttpStatusCode.NotFound, "GET", $"/api/batches/T1b?asOf={then}");
    }

    [Fact]
    public async Task A_time_that_cannot_be_looked_back_to_is_refused_by_name()
    {
        await using var rig = await ApiRig.Start();
        var now = (await rig.Json("GET", "/api/home")).GetProperty("now").GetDateTimeOffset();
        var ahead = now.AddDays(2).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        foreach (var wrong in (string[])[ahead, "soon"])
        {
            var problem = await rig.Problem(HttpStatusCode.BadRequest, "GET", $"/api/spots?asOf={wrong}");
            Assert.True(problem.GetProperty("errors").TryGetProperty("asOf", out _), problem.GetRawText());
        }

        var paths = (await rig.Json("GET", "/openapi/v1.json")).GetProperty("paths");
        Assert.Contains("asOf", paths.GetProperty("/api/lots").GetProperty("get").GetRawText(), StringComparison.Ordinal);
        Assert.DoesNotContain("asOf", paths.GetProperty("/api/notices").GetRawText(), StringComparison.Ordinal);
    }
}
