using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Chamber.Service.Notify;
using Microsoft.Extensions.Time.Testing;

namespace Chamber.Service.Tests.Notify;

/// <summary>Codes are those of HTTP (RFC 9110), the form that of CloudEvents 1.0; the rest is invented.</summary>
public class WebhookChannelTests
{
    private const string Secret = "a shared secret of some length";

    private readonly FakeTimeProvider time = new(new(2026, 3, 4, 2, 11, 0, TimeSpan.Zero));

    // CloudEvents 1.0.2, sections "Required Attributes" and "JSON Format", structured mode.
    [Fact]
    public async Task A_notice_arrives_as_a_CloudEvent_with_its_required_attributes()
    {
        await using var peer = await HttpPeer.StartAsync();

        var delivery = await SendAsync(peer, secret: null);

        Assert.Equal(Delivery.Done, delivery);
        var request = Assert.Single(peer.Requests);
        Assert.StartsWith("application/cloudevents+json", request.Headers["Content-Type"], StringComparison.Ordinal);
        var sent = JsonDocument.Parse(request.Body).RootElement;
        Assert.Equal("1.0", sent.GetProperty("specversion").GetString());
        Assert.Equal("alert-17-opened", sent.GetProperty("id").GetString());
        Assert.Equal("chamber.alert.opened", sent.GetProperty("type").GetString());
        Assert.Equal("urn:chamber", sent.GetProperty("source").GetString());
        Assert.Equal("boiler-cupboard", sent.GetProperty("subject").GetString());
        Assert.Equal("2026-03-04T02:10:00Z", sent.GetProperty("time").GetString());
        Assert.Equal(SampleNotice.TooHot.Title, sent.GetProperty("data").GetProperty("title").GetString());
    }

    [Fact]
    public async Task A_receiver_can_check_the_signature_from_what_it_was_sent()
    {
        await using var peer = await HttpPeer.StartAsync();

        await SendAsync(peer, Secret);

        var request = Assert.Single(peer.Requests);
        var digest = $"sha-256=:{Convert.ToBase64String(SHA256.HashData(request.Body))}:";
        Assert.Equal(digest, request.Headers["Content-Digest"]);
        var parameters = request.Headers["Signature-Input"]["chamber=".Length..];
        Assert.Contains($"created={time.GetUtcNow().ToUnixTimeSeconds()}", parameters, StringComparison.Ordinal);
        var signatureBase = $"\"@method\": POST\n\"@target-uri\": {peer.Url}/\n\"content-digest\": {digest}\n\"content-type\": "
            + $"{request.Headers["Content-Type"]}\n\"@signature-params\": {parameters}";
        var expected = Convert.ToBase64String(HMACSHA256.HashData(Encoding.UTF8.GetBytes(Secret), Encoding.UTF8.GetBytes(signatureBase)));
        Assert.Equal($"chamber=:{expected}:", request.Headers["Signature"]);
    }

    [Theory]
    [InlineData(200, DeliveryOutcome.Delivered)]
    [InlineData(204, DeliveryOutcome.Delivered)]
    [InlineData(302, DeliveryOutcome.Refused)]
    [InlineData(308, DeliveryOutcome.Refused)]
    [InlineData(401, DeliveryOutcome.Refused)]
    [InlineData(404, DeliveryOutcome.Refused)]
    [InlineData(408, DeliveryOutcome.TryLater)]
    [InlineData(429, DeliveryOutcome.TryLater)]
    [InlineData(503, DeliveryOutcome.TryLater)]
    internal async Task A_status_decides_whether_to_try_again(int status, DeliveryOutcome expected)
    {
        await using var peer = await HttpPeer.StartAsync();
        peer.StatusCode = status;

        Assert.Equal(expected, (await SendAsync(peer, Secret)).Outcome);
    }

    [Fact]
    public async Task An_answer_without_end_counts_by_its_status_alone()
    {
        await using var peer = await HttpPeer.StartAsync();
        peer.IsEndless = true;

        Assert.Equal(Delivery.Done, await SendAsync(peer, Secret));
    }

    [Fact]
    public async Task A_receiver_that_asks_to_wait_is_given_its_time()
    {
        await using var peer = await HttpPeer.StartAsync();
        peer.StatusCode = 429;
        peer.RetryAfter = "90";

        Assert.Equal(TimeSpan.FromSeconds(90), (await SendAsync(peer, Secret)).RetryAfter);
    }

    [Fact]
    public async Task A_receiver_that_is_away_is_tried_later_and_named()
    {
        var peer = await HttpPeer.StartAsync();
        var url = peer.Url;
        await peer.DisposeAsync();

        using var http = new HttpClient();
        var delivery = await new WebhookChannel(new() { Url = url }, http, time)
            .SendAsync(SampleNotice.TooHot, TestContext.Current.CancellationToken);

        Assert.Equal(DeliveryOutcome.TryLater, delivery.Outcome);
        Assert.Contains(url, delivery.Reason, StringComparison.Ordinal);
    }

    private async Task<Delivery> SendAsync(HttpPeer peer, string? secret)
    {
        using var http = new HttpClient();
        var channel = new WebhookChannel(new() { Url = peer.Url, Secret = secret }, http, time);
        return await channel.SendAsync(SampleNotice.TooHot, TestContext.Current.CancellationToken);
    }
}
