using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Chamber.Service.Notify;
using Chamber.Storage;

namespace Chamber.Service.Tests.Notify;

public sealed class WebPushChannelTests : IDisposable
{
    private readonly PushReceiver browser = new(ECDiffieHellman.Create(ECCurve.NamedCurves.nistP256), RandomNumberGenerator.GetBytes(16));
    private readonly VapidKeys keys = VapidKeys.Create();
    private readonly HttpClient http = new();
    private readonly List<PushDevice> forgotten = [];

    // RFC 8291 (Thomson, 2017), section 5 and appendix A: keys, authentication secret and the encrypted message as printed there.
    [Fact]
    public void The_receiver_of_these_tests_opens_the_message_of_RFC_8291()
    {
        using var receiver = new PushReceiver(
            PushReceiver.Import(
                "BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4",
                "q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94"),
            Base64Url.DecodeFromChars("BTBZMqHH6r4Tts7J_aSIgg"));

        var text = receiver.Open(Base64Url.DecodeFromChars(
            "DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A_yl95bQpu6cVPTpK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN"));

        Assert.Equal("When I grow up, I want to be a watermelon", text);
    }

    [Fact]
    public async Task A_browser_can_open_what_was_sent()
    {
        await using var peer = await HttpPeer.StartAsync();
        peer.StatusCode = 201;

        Assert.Equal(Delivery.Done, await SendAsync(peer));

        var request = Assert.Single(peer.Requests);
        Assert.Equal("aes128gcm", request.Headers["Content-Encoding"]);
        var message = JsonDocument.Parse(browser.Open(request.Body)).RootElement;
        Assert.Equal(SampleNotice.TooHot.Title, message.GetProperty("title").GetString());
        Assert.Equal(SampleNotice.TooHot.Body, message.GetProperty("body").GetString());
    }

    // RFC 8292 sections 2 and 3: a JWT signed by ES256 with audience, expiry and subject, and the key in the k parameter.
    [Fact]
    public async Task The_push_service_can_check_who_sent_it()
    {
        await using var peer = await HttpPeer.StartAsync();
        peer.StatusCode = 201;

        await SendAsync(peer);

        var authorization = Assert.Single(peer.Requests).Headers["Authorization"];
        Assert.StartsWith("vapid t=", authorization, StringComparison.Ordinal);
        var token = authorization["vapid t=".Length..].Split(',')[0];
        Assert.Contains($"k={keys.Public}", authorization, StringComparison.Ordinal);
        var parts = token.Split('.');
        using var sender = PushReceiver.Import(keys.Public, privateKey: null);
        using var signer = ECDsa.Create(sender.ExportParameters(includePrivateParameters: false));
        Assert.True(signer.VerifyData(Encoding.ASCII.GetBytes($"{parts[0]}.{parts[1]}"), Base64Url.DecodeFromChars(parts[2]),
            HashAlgorithmName.SHA256));
        var claims = JsonDocument.Parse(Base64Url.DecodeFromChars(parts[1])).RootElement;

        // The library leaves the port out of the audience; push services listen on 443, where an origin has none.
        Assert.Equal($"http://{new Uri(peer.Url).Host}", claims.GetProperty("aud").GetString());
        Assert.Equal("mailto:grower@example.org", claims.GetProperty("sub").GetString());
    }

    [Theory]
    [InlineData(404, DeliveryOutcome.Refused)]
    [InlineData(410, DeliveryOutcome.Refused)]
    [InlineData(429, DeliveryOutcome.TryLater)]
    [InlineData(503, DeliveryOutcome.TryLater)]
    internal async Task A_subscription_that_is_over_is_not_tried_again(int status, DeliveryOutcome expected)
    {
        await using var peer = await HttpPeer.StartAsync();
        peer.StatusCode = status;

        Assert.Equal(expected, (await SendAsync(peer)).Outcome);
        Assert.Equal(status is 404 or 410, forgotten.Count == 1);
    }

    public void Dispose()
    {
        browser.Dispose();
        http.Dispose();
    }

    private async Task<Delivery> SendAsync(HttpPeer peer)
    {
        var device = new PushDevice($"{peer.Url}/push/1", browser.PublicKey, browser.Auth, Note: null, default);
        using var channel = new WebPushChannel(device, keys, new() { Contact = "mailto:grower@example.org" }, http, forgotten.Add);
        return await channel.SendAsync(SampleNotice.TooHot, TestContext.Current.CancellationToken);
    }
}
