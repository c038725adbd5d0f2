using Chamber.Service.Configuration;
using Chamber.Service.Notify;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Notify;

/// <summary>The channels as the service sets them up. Addresses and keys are invented.</summary>
public sealed class NoticeChannelsTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly ChamberStore store;

    public NoticeChannelsTests() => store = ChamberStore.Open(folder.File("chamber.db"));

    private DataDirectory Data => new(folder.Path);

    public void Dispose()
    {
        store.Dispose();
        folder.Dispose();
    }

    [Fact]
    public async Task A_webhook_that_sends_on_is_not_followed_and_its_reason_says_so()
    {
        await using var elsewhere = await HttpPeer.StartAsync();
        await using var peer = await HttpPeer.StartAsync();
        (peer.StatusCode, peer.Location) = (307, elsewhere.Url);

        var delivery = await Send(new() { Webhook = new() { Url = peer.Url } });

        Assert.Equal(DeliveryOutcome.Refused, delivery.Outcome);
        Assert.Contains("sends on to another address (307)", delivery.Reason, StringComparison.Ordinal);
        Assert.Empty(elsewhere.Requests);
    }

    [Theory]
    [InlineData("")]
    [InlineData("null")]
    [InlineData("""{ "Public": "BAAA", "Private": "AAAA" }""")]
    [InlineData("""{ "Public": "BAAA" }""")]
    [InlineData("""{ "Public": "no key!", "Private": "no key!" }""")]
    public async Task A_push_key_that_is_wrong_is_told_with_the_file_and_the_fix(string text)
    {
        folder.Write("push-keys.json", text);

        var delivery = await Send(WithBrowser());

        Assert.Equal(DeliveryOutcome.Refused, delivery.Outcome);
        Assert.Contains("push-keys.json holds no pair of keys: put back a good copy; or delete it", delivery.Reason, StringComparison.Ordinal);
        Assert.DoesNotContain("ASN1", delivery.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_browser_whose_key_is_no_key_is_told_as_that()
    {
        var delivery = await Send(WithBrowser());

        Assert.Equal(DeliveryOutcome.Refused, delivery.Outcome);
        Assert.Contains("remove it from the list of browsers", delivery.Reason, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("http://127.0.0.1:9/hook", "this machine")]
    [InlineData("http://localhost/hook", "this machine")]
    [InlineData("http://[::1]/hook", "this machine")]
    [InlineData("http://169.254.169.254/latest", "a link-local address")]
    [InlineData("http://[fe80::1]/hook", "a link-local address")]
    [InlineData("https://box.home/chamber", null)]
    [InlineData("http://192.168.1.10/hook", null)]
    public void A_webhook_to_this_machine_or_its_own_network_is_named(string url, string? named) =>
        Assert.Equal(named, HostName.NearTo(new Uri(url)));

    private NoticeOptions WithBrowser()
    {
        store.Ledger.PushDevices.Save(new("https://push.example.org/one", "BAAA", "AAAA", null, Instant.FromUtc(2027, 3, 1, 8, 0)));
        return new() { WebPush = new() { Contact = "mailto:grower@example.org" } };
    }

    private async Task<Delivery> Send(NoticeOptions options)
    {
        using var channels = new NoticeChannels(options, Data, store, TimeProvider.System, _ => null);
        return await Assert.Single(channels.All()).SendAsync(SampleNotice.TooHot, TestContext.Current.CancellationToken);
    }
}
