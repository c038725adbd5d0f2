using System.Text.Json;
using Lib.Net.Http.WebPush;
using Lib.Net.Http.WebPush.Authentication;

namespace Chamber.Service.Notify;

/// <summary>A browser that asked to be told (Push API, PushSubscription.toJSON).</summary>
/// <param name="Endpoint">Where its push service listens.</param>
/// <param name="P256dh">Its public key, base64url.</param>
/// <param name="Auth">Its authentication secret, base64url.</param>
internal sealed record PushDevice(string Endpoint, string P256dh, string Auth);

/// <summary>Sends a notice to one browser by Web Push (RFC 8030), encrypted (RFC 8291) and signed by VAPID (RFC 8292).</summary>
internal sealed class WebPushChannel(PushDevice device, VapidKeys keys, WebPushOptions options, HttpClient http) : INoticeChannel, IDisposable
{
    // A hazard is worth waking a phone for two hours later; a look is not worth showing tomorrow.
    private const int TimeToLiveSeconds = 2 * 60 * 60;

    private readonly VapidAuthentication authentication = new(keys.Public, keys.Private) { Subject = options.Contact };

    public string Name => "webpush";

    public async Task<Delivery> SendAsync(Notice notice, CancellationToken cancellationToken)
    {
        var subscription = new PushSubscription { Endpoint = device.Endpoint };
        subscription.SetKey(PushEncryptionKeyName.P256DH, device.P256dh);
        subscription.SetKey(PushEncryptionKeyName.Auth, device.Auth);
        var message = new PushMessage(JsonSerializer.Serialize(new { id = notice.Id, title = notice.Title, body = notice.Body }))
        {
            TimeToLive = TimeToLiveSeconds,
            Urgency = notice.Urgency == NoticeUrgency.Hazard ? PushMessageUrgency.High : PushMessageUrgency.Normal,
        };
        try
        {
            await new PushServiceClient(http) { AutoRetryAfter = false }
                .RequestPushMessageDeliveryAsync(subscription, message, authentication, cancellationToken);
            return Delivery.Done;
        }
        catch (PushServiceClientException exception)
        {
            return FromStatus((int)exception.StatusCode);
        }
        catch (Exception exception) when (HttpDelivery.IsPeerAway(exception, cancellationToken))
        {
            return Delivery.Later($"The push service {Host} could not be reached: {exception.Message}");
        }
    }

    public void Dispose() => authentication.Dispose();

    private string Host => new Uri(device.Endpoint).Host;

    // RFC 8030 section 7.3: 404 and 410 mean that the subscription is over.
    private Delivery FromStatus(int status) => status switch
    {
        404 or 410 => Delivery.Never($"The browser behind {Host} no longer takes notices: allow them again on its page."),
        429 or >= 500 => Delivery.Later($"The push service {Host} asked to wait ({status})."),
        _ => Delivery.Never($"The push service {Host} refused the notice ({status}): check notices.webPush.contact."),
    };
}
