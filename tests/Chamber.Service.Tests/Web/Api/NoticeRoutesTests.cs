using System.Text.Json;
using Chamber.Service.Tests.Notify;
using Chamber.Testing;

namespace Chamber.Service.Tests.Web.Api;

/// <summary>Notices through the API of the built program, to a real receiver. Codes are those of HTTP (RFC 9110).</summary>
public class NoticeRoutesTests
{
    [Fact]
    public async Task A_channel_is_set_up_and_tested_and_what_it_refused_can_be_resent()
    {
        await using var peer = await HttpPeer.StartAsync();
        await using var rig = await ApiRig.Start();

        // What opens as the service starts belongs to before there was a channel.
        await Wait.Until("the look that is due is told", async () =>
            (await rig.Json("GET", "/api/alerts")).GetRawText().Contains("Look at T1", StringComparison.Ordinal) ? rig : null);
        var answer =
            (await rig.Json("PUT", "/api/notices/set-up/webhook",
            JsonSerializer.Serialize(new { url = peer.Url, secret = "s3cret, sixteen of them" }))).GetRawText();
        Assert.Contains("\"secretKept\":true", answer, StringComparison.Ordinal);
        Assert.DoesNotContain("s3cret", answer, StringComparison.Ordinal);

        var proof = Assert.Single((await rig.Json("POST", "/api/notices/test?channel=webhook")).EnumerateArray());
        Assert.True(proof.GetProperty("good").GetBoolean());
        Assert.Equal("chamber.test", TypeOf(await peer.Next()));

        // A refusal for good: the notice is given up at once.
        peer.StatusCode = 410;
        await rig.Json("PUT", "/api/spots/mat", """{ "kind": "heat-mat" }""");
        await rig.Json("POST", "/api/readings", """{ "where": "mat", "temperature": "55C", "sure": true }""");
        Assert.Equal("chamber.alert.opened", TypeOf(await peer.Next()));
        await rig.Said("A notice was given up by webhook");
        var given = Assert.Single((await rig.Json("GET", "/api/notices")).GetProperty("givenUp").EnumerateArray());
        Assert.Contains("refused the notice (410)", given.GetProperty("reason").GetString(), StringComparison.Ordinal);

        peer.StatusCode = 200;
        (await rig.Call("POST", $"/api/notices/{given.GetProperty("number")}/resend")).EnsureSuccessStatusCode();
        Assert.Equal("chamber.alert.opened", TypeOf(await peer.Next()));
        await rig.Said("A notice was sent by webhook");
        Assert.Empty((await rig.Json("GET", "/api/notices")).GetProperty("givenUp").EnumerateArray());
    }

    private static string? TypeOf(HttpPeer.Request request) => JsonDocument.Parse(request.Body).RootElement.GetProperty("type").GetString();
}
