using Chamber.Service.Notify;
using Chamber.Service.Tests.Notify;
using Chamber.Testing;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Commands;

/// <summary>Codes are those of HTTP (RFC 9110); the rest is invented.</summary>
public sealed class NoticeVerbTests : IDisposable
{
    private readonly HomeRig home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task A_channel_is_proved_by_a_test_that_arrives()
    {
        await using var mail = MailServer.Start();
        await using var peer = await HttpPeer.StartAsync();
        SetUp(mail.Port, peer.Url);

        var outcome = await home.Run("notify-test");

        Assert.Equal((0, "email: the test was accepted.\nwebhook: the test was accepted.\n"), (outcome.Code, outcome.Out));
        Assert.Equal("Chamber can reach you", Assert.Single(mail.Mails).Subject);
        Assert.Single(peer.Requests);
    }

    [Fact]
    public async Task A_channel_that_fails_is_told_with_its_fix()
    {
        await using var mail = MailServer.Start();
        await using var peer = await HttpPeer.StartAsync();
        peer.StatusCode = 401;
        SetUp(mail.Port, peer.Url);

        var outcome = await home.Run("notify-test", "webhook");

        Assert.Equal(1, outcome.Code);
        Assert.Contains("refused the notice (401). Check notices.webhook.url and its secret.", outcome.Out, StringComparison.Ordinal);
        Assert.Empty(mail.Mails);
    }

    [Fact]
    public async Task A_channel_that_is_not_set_up_is_told()
    {
        Assert.Contains("No channel is set up", await home.Refusal("notify-test"), StringComparison.Ordinal);
        SetUp(25, "http://127.0.0.1:1/");
        Assert.Equal("chamber: There is no channel \"pigeon\"; there are email, webhook.", await home.Refusal("notify-test", "pigeon"));
    }

    [Fact]
    public async Task What_was_given_up_is_listed_sent_again_and_dropped()
    {
        SetUp(25, "http://127.0.0.1:1/");
        GiveUp("alert-1-opened", "alert-2-opened");

        var listed = await home.Json("notices");
        Assert.Equal(["email", "webhook"], listed.GetProperty("channels").EnumerateArray()
            .Select(channel => channel.GetProperty("channel").GetString()));
        var dead = listed.GetProperty("givenUp").EnumerateArray().ToList();
        Assert.Equal(("webhook", "Boiler cupboard: too hot for lettuce", "no answer"),
            (dead[0].GetProperty("channel").GetString(), dead[0].GetProperty("title").GetString(),
            dead[0].GetProperty("reason").GetString()));

        await home.Do("notices resend 1");
        Assert.Equal(1, (await home.Json("notices")).GetProperty("waiting").GetArrayLength());
        await home.Do("notices drop all", "notices drop 1");
        var empty = await home.Json("notices");
        Assert.Equal((0, 0), (empty.GetProperty("waiting").GetArrayLength(), empty.GetProperty("givenUp").GetArrayLength()));
        Assert.Equal("chamber: There is no notice 1.", await home.Refusal("notices", "drop", "1"));
        Assert.Contains("\"twelve\" is not the number of a notice", await home.Refusal("notices", "drop", "twelve"),
            StringComparison.Ordinal);
    }

    private void GiveUp(params string[] names)
    {
        using var store = ChamberStore.Open(home.File("chamber.db"));
        foreach (var name in names)
        {
            var payload = System.Text.Json.JsonSerializer.Serialize(NoticePayload.From(SampleNotice.TooHot with { Id = name }));
            store.Ledger.Notices.Add("webhook", name, payload, Instant.FromUtc(2027, 3, 1, 7, 0));
            store.Ledger.Notices.Failed(store.Ledger.Notices.Waiting()[0].Number, "no answer", nextAt: null);
        }
    }

    private void SetUp(int port, string url) => File.WriteAllText(home.File("chamber.json"), $$"""
        { "notices": {
          "email": { "host": "127.0.0.1", "port": {{port}}, "security": "whenOffered", "from": "chamber@example.org", "to": ["grower@example.org"] },
          "webhook": { "url": "{{url}}" } } }
        """);
}
