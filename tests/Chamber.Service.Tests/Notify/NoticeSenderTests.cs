using Chamber.Service.Configuration;
using Chamber.Service.Notify;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Notify;

public sealed class NoticeSenderTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly FakeTimeProvider time = new(new(2026, 3, 4, 2, 11, 0, TimeSpan.Zero));
    private readonly ChamberStore store;
    private readonly HttpClient http = new();

    public NoticeSenderTests() => store = ChamberStore.Open(folder.File("chamber.db"));

    [Fact]
    public async Task A_notice_reaches_every_channel_and_leaves_the_ledger()
    {
        await using var peer = await HttpPeer.StartAsync();
        await using var mail = MailServer.Start();
        var sender = Sender(Webhook(peer.Url), Email(mail));

        sender.Put(SampleNotice.TooHot);
        var next = await sender.SendDueAsync(TestContext.Current.CancellationToken);

        Assert.Single(peer.Requests);
        Assert.Single(mail.Mails);
        Assert.Null(next);
        Assert.Empty(store.Ledger.Notices.Dead());
    }

    [Fact]
    public async Task A_notice_waits_through_an_outage_and_a_restart()
    {
        var url = await UrlOfNobody();
        Sender(Webhook(url)).Put(SampleNotice.TooHot);
        Assert.NotNull(await Sender(Webhook(url)).SendDueAsync(TestContext.Current.CancellationToken));

        await using var peer = await HttpPeer.StartAsync();
        time.Advance(TimeSpan.FromMinutes(2));
        await Sender(Webhook(peer.Url)).SendDueAsync(TestContext.Current.CancellationToken);

        Assert.Single(peer.Requests);
    }

    [Fact]
    public async Task One_channel_that_is_away_does_not_hold_up_the_other()
    {
        await using var mail = MailServer.Start();
        var sender = Sender(Webhook(await UrlOfNobody()), Email(mail));

        sender.Put(SampleNotice.TooHot);
        sender.Put(SampleNotice.TooHot with { Id = "another" });
        await sender.SendDueAsync(TestContext.Current.CancellationToken);

        Assert.Equal(2, mail.Mails.Count);
    }

    [Fact]
    public async Task A_peer_that_asks_to_wait_is_not_asked_again_before_its_time()
    {
        await using var peer = await HttpPeer.StartAsync();
        peer.StatusCode = 429;
        peer.RetryAfter = "600";
        var sender = Sender(Webhook(peer.Url));
        sender.Put(SampleNotice.TooHot);

        var next = await sender.SendDueAsync(TestContext.Current.CancellationToken);

        Assert.Equal(Instant.FromDateTimeOffset(time.GetUtcNow()) + Duration.FromMinutes(10), next);
    }

    [Fact]
    public async Task A_refusal_is_kept_with_its_reason_and_can_be_tried_again()
    {
        await using var peer = await HttpPeer.StartAsync();
        peer.StatusCode = 404;
        var sender = Sender(Webhook(peer.Url));
        sender.Put(SampleNotice.TooHot);
        await sender.SendDueAsync(TestContext.Current.CancellationToken);

        var dead = Assert.Single(store.Ledger.Notices.Dead());
        Assert.Contains("notices.webhook.url", dead.Error, StringComparison.Ordinal);

        peer.StatusCode = 200;
        store.Ledger.Notices.Revive(dead.Number, Instant.FromDateTimeOffset(time.GetUtcNow()));
        await sender.SendDueAsync(TestContext.Current.CancellationToken);
        Assert.Empty(store.Ledger.Notices.Dead());
        Assert.Equal(2, peer.Requests.Count);
    }

    [Fact]
    public async Task Waits_grow_and_end_with_giving_up()
    {
        var sender = Sender(Webhook(await UrlOfNobody()));
        sender.Put(SampleNotice.TooHot);
        var waits = new List<Duration>();
        var start = Instant.FromDateTimeOffset(time.GetUtcNow());
        for (var next = await sender.SendDueAsync(TestContext.Current.CancellationToken); next is { } at; next = await sender.SendDueAsync(
            TestContext.Current.CancellationToken))
        {
            var wait = at - Instant.FromDateTimeOffset(time.GetUtcNow());
            waits.Add(wait);
            time.Advance(wait.ToTimeSpan());
        }

        Assert.Equal(NoticeSender.AttemptsMax - 1, waits.Count);
        Assert.Equal(Enumerable.Range(0, waits.Count).Select(attempts => NoticeSender.WaitAfter(attempts, 0)), waits,
            (expected, wait) => wait >= expected && wait <= expected * 1.25);
        Assert.InRange(Instant.FromDateTimeOffset(time.GetUtcNow()) - start, Duration.FromDays(1), Duration.FromDays(3));
        Assert.Single(store.Ledger.Notices.Dead());
    }

    // Refusals of both kinds first (RFC 9110 sections 15.5 and 15.6), then acceptance: the notice arrives once.
    [Fact]
    public async Task A_peer_that_is_in_trouble_and_then_recovers_gets_the_notice_once()
    {
        await using var peer = await HttpPeer.StartAsync();
        var sender = Sender(Webhook(peer.Url));
        sender.Put(SampleNotice.TooHot);
        var taken = 0;
        foreach (var status in new[] { 503, 500, 408, 429, 202 })
        {
            peer.StatusCode = status;
            var next = await sender.SendDueAsync(TestContext.Current.CancellationToken);
            taken += status == 202 ? 1 : 0;
            Assert.Equal(taken == 0, next is not null);
            time.Advance(TimeSpan.FromHours(7));
        }

        Assert.Equal(5, peer.Requests.Count);
        await sender.SendDueAsync(TestContext.Current.CancellationToken);
        Assert.Equal(5, peer.Requests.Count);
    }

    // As on a full disk: the ledger can be read, and not written.
    [Fact]
    public async Task A_notice_sent_while_the_ledger_was_read_only_is_not_sent_again()
    {
        await using var peer = await HttpPeer.StartAsync();
        var sender = Sender(Webhook(peer.Url));
        sender.Put(SampleNotice.TooHot);
        using var other = new SqliteConnection($"Data Source={folder.File("chamber.db")};Pooling=False");
        other.Open();
        Execute(other, "CREATE TRIGGER no BEFORE DELETE ON notice BEGIN SELECT RAISE(ABORT, 'no'); END");
        for (var pass = 0; pass < 3; pass++)
        {
            await Assert.ThrowsAsync<StoreException>(() => sender.SendDueAsync(TestContext.Current.CancellationToken));
        }

        Execute(other, "DROP TRIGGER no");
        Assert.Null(await sender.SendDueAsync(TestContext.Current.CancellationToken));
        Assert.Single(peer.Requests);
        Assert.Empty(store.Ledger.Notices.Waiting());
    }

    [Fact]
    public async Task A_notice_that_is_decided_upon_again_after_a_restart_is_not_sent_again()
    {
        await using var peer = await HttpPeer.StartAsync();
        Sender(Webhook(peer.Url)).Put(SampleNotice.TooHot);
        await Sender(Webhook(peer.Url)).SendDueAsync(TestContext.Current.CancellationToken);

        var restarted = Sender(Webhook(peer.Url));
        Assert.Equal(0, restarted.Put(SampleNotice.TooHot));
        await restarted.SendDueAsync(TestContext.Current.CancellationToken);
        Assert.Single(peer.Requests);
    }

    [Fact]
    public void A_channel_kept_for_the_unseen_gets_those_and_hazards_only()
    {
        var sender = Sender(new WebhookChannel(new() { Url = "http://127.0.0.1:1/", OnlyWhenUnseen = true }, http, time));
        Assert.Equal(0, sender.Put(SampleNotice.TooHot));
        Assert.Equal(1, sender.Put(SampleNotice.TooHot with { Id = "again", IsUnseen = true }));
        Assert.Equal(1, sender.Put(SampleNotice.TooHot with { Id = "fire", Urgency = NoticeUrgency.Hazard }));
    }

    [Fact]
    public async Task A_channel_removed_from_the_settings_drops_its_notices_with_that_reason()
    {
        Sender(Webhook(await UrlOfNobody())).Put(SampleNotice.TooHot);
        Assert.Null(await Sender().SendDueAsync(TestContext.Current.CancellationToken));
        Assert.Equal("The channel webhook is no longer set up.", Assert.Single(store.Ledger.Notices.Dead()).Error);
    }

    public void Dispose()
    {
        store.Dispose();
        http.Dispose();
        folder.Dispose();
    }

    private static void Execute(SqliteConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Constants of this test.
        command.CommandText = sql;
#pragma warning restore CA2100
        command.ExecuteNonQuery();
    }

    private static async Task<string> UrlOfNobody()
    {
        await using var peer = await HttpPeer.StartAsync();
        return peer.Url;
    }

    private static EmailChannel Email(MailServer server) => new(new()
    {
        Host = "127.0.0.1", Port = server.Port, Security = MailSecurity.WhenOffered, From = "chamber@example.org",
            To = ["grower@example.org"],
    }, _ => null);

    private WebhookChannel Webhook(string url) => new(new() { Url = url }, http, time);

    private NoticeSender Sender(params INoticeChannel[] channels) =>
        new(store.Ledger.Notices, () => channels, time, new Random(7), NullLogger<NoticeSender>.Instance);
}
