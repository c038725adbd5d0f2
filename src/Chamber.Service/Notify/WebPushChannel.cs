using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Chamber.Service.Configuration;
using Chamber.Storage;
using Lib.Net.Http.WebPush;
using Lib.Net.Http.WebPush.Authentication;

namespace Chamber.Service.Notify;

/// <summary>Sends a notice to one browser by Web Push (RFC 8030), encrypted (RFC 8291) and signed by VAPID (RFC 8292).</summary>
/// <param name="device">The browser.</param>
/// <param name="keys">By which push services know this home.</param>
/// <param name="options">Who can be reached about it.</param>
/// <param name="http">The way out.</param>
/// <param name="forget">Called when the browser no longer takes notices.</param>
internal sealed class WebPushChannel(PushDevice device, VapidKeys keys, WebPushOptions options, HttpClient http, Action<PushDevice> forget)
    : INoticeChannel, IDisposable
{
    // A hazard is worth waking a phone for two hours later; a look is not worth showing tomorrow.
    private const int TimeToLiveSeconds = 2 * 60 * 60;

    private const int BodyLengthMax = 900;

    private readonly VapidAuthentication authentication = new(keys.Public, keys.Private) { Subject = options.Contact };

    /// <summary>Short, and the same after a restart: the endpoint itself is a secret address.</summary>
    public string Name { get; } = NameOf(device);

    public bool OnlyWhenUnseen => options.OnlyWhenUnseen;

    public static string NameOf(PushDevice device) =>
        $"webPush-{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(device.Endpoint)))[..8]}";

    public async Task<Delivery> SendAsync(Notice notice, CancellationToken cancellationToken)
    {
        var subscription = new PushSubscription { Endpoint = device.Endpoint };
        subscription.SetKey(PushEncryptionKeyName.P256DH, device.PublicKey);
        subscription.SetKey(PushEncryptionKeyName.Auth, device.Secret);
        var message = new PushMessage(
            JsonSerializer.Serialize(new { id = notice.Id, title = notice.Title, body = Short(notice.Body), link = notice.Link }))
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
            return FromStatus(exception);
        }
        catch (Exception problem) when (problem is CryptographicException or FormatException or ArgumentException)
        {
            // What the browser gave when it asked is not what a browser gives (RFC 8291, section 3.1).
            return Delivery.Never($"The keys of the browser behind {Host} are not usable, so nothing can be sent to it: remove it from the "
                + $"list of browsers, and allow notices again on its page.");
        }
        catch (Exception exception) when (HttpDelivery.IsPeerAway(exception, cancellationToken))
        {
            return Delivery.Later($"The push service {Host} could not be reached: {exception.Message}");
        }
    }

    public void Dispose() => authentication.Dispose();

    private string Host => new Uri(device.Endpoint).Host;

    // Push services take 4096 bytes after encryption (RFC 8030 section 7.2); a phone shows a few lines anyway.
    private static string Short(string body) => body.Length <= BodyLengthMax ? body : body[..BodyLengthMax] + "…";

    private Delivery FromStatus(PushServiceClientException refusal)
    {
        switch ((int)refusal.StatusCode)
        {
            // RFC 8030 section 7.3: the subscription is over.
            case 404 or 410:
                forget(device);
                return Delivery.Never($"The browser behind {Host} no longer takes notices: allow them again on its page.");
            case 429 or >= 500:
                return Delivery.Later($"The push service {Host} asked to wait ({(int)refusal.StatusCode}).",
                    refusal.Headers?.RetryAfter?.Delta);
            default:
                return Delivery.Never(
                    $"The push service {Host} refused the notice ({(int)refusal.StatusCode}): check notices.webPush.contact.");
        }
    }
}
