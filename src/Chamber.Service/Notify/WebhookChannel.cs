using System.Net;
using System.Net.Http.Headers;
using System.Net.Mime;
using Chamber.Service.Configuration;
using CloudNative.CloudEvents;
using CloudNative.CloudEvents.SystemTextJson;

namespace Chamber.Service.Notify;

/// <summary>Posts a notice as a CloudEvents 1.0 event in structured JSON, signed where a secret is set.</summary>
internal sealed class WebhookChannel(WebhookOptions options, HttpClient http, TimeProvider time) : INoticeChannel
{
    private static readonly JsonEventFormatter Formatter = new();

    public string Name => "webhook";

    public bool OnlyWhenUnseen => options.OnlyWhenUnseen;

    public async Task<Delivery> SendAsync(Notice notice, CancellationToken cancellationToken)
    {
        using var request = Compose(notice);
        try
        {
            // The status says it all; what else a peer sends may have no end, and is not read.
            using var response = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, cancellationToken);
            return HttpDelivery.From(response, $"The webhook {options.Url}", "Check notices.webhook.url and its secret.");
        }
        catch (Exception exception) when (HttpDelivery.IsPeerAway(exception, cancellationToken))
        {
            return Delivery.Later($"The webhook {options.Url} could not be reached: {exception.Message}");
        }
    }

    internal HttpRequestMessage Compose(Notice notice)
    {
        var cloudEvent = new CloudEvent(CloudEventsSpecVersion.V1_0)
        {
            Id = notice.Id,
            Type = $"chamber.{notice.Kind}",
            Source = new Uri("urn:chamber"),
            Subject = notice.Subject,
            Time = notice.At.ToDateTimeOffset(),
            DataContentType = MediaTypeNames.Application.Json,
            Data = new { title = notice.Title, body = notice.Body, urgency = notice.Urgency.ToString().ToLowerInvariant(),
                link = notice.Link },
        };
        var content = Formatter.EncodeStructuredModeMessage(cloudEvent, out var contentType).ToArray();
        var request = new HttpRequestMessage(HttpMethod.Post, options.Url)
        {
            Content = new ByteArrayContent(content) { Headers = { ContentType = MediaTypeHeaderValue.Parse(contentType.ToString()) } },
        };
        if (options.Secret is { } secret)
        {
            MessageSignature.Sign(request, content, secret, time.GetUtcNow());
        }

        return request;
    }
}

/// <summary>What an HTTP reply means for a notice.</summary>
internal static class HttpDelivery
{
    public static Delivery From(HttpResponseMessage response, string peer, string fix) => response.StatusCode switch
    {
        _ when response.IsSuccessStatusCode => Delivery.Done,
        HttpStatusCode.TooManyRequests or HttpStatusCode.RequestTimeout =>
            Delivery.Later($"{peer} asked to wait ({(int)response.StatusCode}).", After(response)),
        >= HttpStatusCode.Ambiguous and < HttpStatusCode.BadRequest =>
            Delivery.Never($"{peer} sends on to another address ({(int)response.StatusCode}), which Chamber does not follow. Set up the address "
                + $"where notices are taken."),
        >= HttpStatusCode.InternalServerError => Delivery.Later($"{peer} is in trouble ({(int)response.StatusCode}).", After(response)),
        _ => Delivery.Never($"{peer} refused the notice ({(int)response.StatusCode}). {fix}"),
    };

    public static bool IsPeerAway(Exception exception, CancellationToken cancellationToken) =>
        exception is HttpRequestException || (exception is TaskCanceledException && !cancellationToken.IsCancellationRequested);

    private static TimeSpan? After(HttpResponseMessage response) => response.Headers.RetryAfter?.Delta;
}
