using System.Buffers.Text;
using System.Security.Cryptography;
using Chamber.Service.Notify;
using Chamber.Service.Web.Views;
using Chamber.Storage;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>How people are notified: channels, the test, what waits and what was given up, browsers.</summary>
internal static class NoticeRoutes
{
    public static void Map(RouteGroupBuilder owned, RouteGroupBuilder writes)
    {
        owned = owned.MapGroup("/notices").WithTags("Notices");
        writes = writes.MapGroup("/notices").WithTags("Notices");
        owned.MapGet("", (PageHome page, NoticeChannels channels) => HomeNotices.Read(page.Store, channels)).WithName("Notices")
            .WithSummary("The channels, what waits to be sent, and what was given up and why.");
        writes.MapPost("/test", (PageHome page, NoticeChannels channels, NoticeComposer composer, string? channel,
            CancellationToken cancel) => Test(page, channels, composer, channel, cancel))
            .WithName("TestNotices")
                .WithSummary("Sends a test now, through every channel or one, and says of each whether it was taken and if not why.")
                .ProducesProblem(StatusCodes.Status404NotFound);
        writes.MapPost("/{number:long}/resend", (PageHome page, NoticeBell bell, long number) => Resend(page, bell, number))
            .WithName("ResendNotice").WithSummary("Lets a notice that was given up be tried again.")
                .ProducesProblem(StatusCodes.Status404NotFound);
        writes.MapDelete("/{number:long}", (PageHome page, long number) => Drop(page, number))
            .WithName("DropNotice").WithSummary("Takes a notice away, waiting or given up.").ProducesProblem(StatusCodes.Status404NotFound);
        MapSetUp(owned, writes);
        MapBrowsers(owned.MapGroup("/browsers"), writes.MapGroup("/browsers"));
    }

    private static void MapSetUp(RouteGroupBuilder owned, RouteGroupBuilder writes)
    {
        owned.MapGet("/set-up", (NoticeSetUp setUp) => setUp.Read()).WithName("NoticeSetUp")
            .WithSummary("How the channels are set up. Of secrets only whether they are kept.");
        writes.MapPut("/set-up/email", (NoticeSetUp setUp, EmailRequest asked) => Set(setUp, () => setUp.Set(asked))).WithName("SetUpEmail")
            .WithSummary("Tells people by e-mail from now on.");
        writes.MapPut("/set-up/webhook", (NoticeSetUp setUp, WebhookRequest asked) => Set(setUp, () => setUp.Set(asked)))
            .WithName("SetUpWebhook").WithSummary("Posts notices to a web address from now on.");
        writes.MapPut("/set-up/web-push", (NoticeSetUp setUp, WebPushRequest asked) => Set(setUp, () => setUp.Set(asked)))
            .WithName("SetUpWebPush").WithSummary("Lets browsers be notified from now on.");
        writes.MapPut("/set-up/telling", (NoticeSetUp setUp, TellingRequest asked) => Set(setUp, () => setUp.Set(asked)))
            .WithName("SetUpTelling").WithSummary("The digest, the quiet hours and the link, as a whole: what is left out is off.");
        writes.MapDelete("/set-up/{channel}",
            (NoticeSetUp setUp, string channel) => Set(setUp, () => setUp.TurnOff(channel == "web-push" ? "webPush" : channel)))
            .WithName("TurnOffChannel").WithSummary("Turns email, webhook or web-push off; its secret is forgotten.")
                .ProducesProblem(StatusCodes.Status404NotFound);
    }

    private static void MapBrowsers(RouteGroupBuilder owned, RouteGroupBuilder writes)
    {
        owned.MapGet("", (PageHome page) => page.Store.Ledger.PushDevices.All().Select(BrowserAnswer.Of)).WithName("Browsers")
            .WithSummary("The browsers that asked to be notified.");
        writes.MapPost("", (PageHome page, BrowserRequest asked) => Add(page, asked)).WithName("AddBrowser")
            .WithSummary("Tells a browser from now on, by what it got when it subscribed with the public key of the set-up (RFC "
            + "8030, RFC 8292).");
        writes.MapDelete("/{browser}", (PageHome page, string browser) => Remove(page, browser)).WithName("RemoveBrowser")
            .WithSummary("Tells a browser no more.").ProducesProblem(StatusCodes.Status404NotFound);
    }

    private static async Task<IReadOnlyList<ChannelProof>> Test(PageHome page, NoticeChannels channels, NoticeComposer composer,
        string? asked, CancellationToken cancel) =>
        await ChannelProof.TryAsync(ChannelProof.Choose(channels.All(), asked), composer, page.Now, cancel);

    private static NoContent Resend(PageHome page, NoticeBell bell, long number)
    {
        if (page.Store.Ledger.Notices.Dead(NoticeOutbox.DeadMax).All(dead => dead.Number != number))
        {
            throw BadInputException.Unknown($"There is no given-up notice {number}.");
        }

        page.Store.Ledger.Notices.Revive(number, page.Now);
        bell.Ring();
        return TypedResults.NoContent();
    }

    private static NoContent Drop(PageHome page, long number)
    {
        var outbox = page.Store.Ledger.Notices;
        if (outbox.Dead(NoticeOutbox.DeadMax).Concat(outbox.Waiting(NoticeOutbox.WaitingMax)).All(notice => notice.Number != number))
        {
            throw BadInputException.Unknown($"There is no notice {number}.");
        }

        outbox.Drop(number);
        return TypedResults.NoContent();
    }

    private static NoticeSetUpAnswer Set(NoticeSetUp setUp, Action change)
    {
        change();
        return setUp.Read();
    }

    private static Created<BrowserAnswer> Add(PageHome page, BrowserRequest asked)
    {
        var device = asked.ToDevice(page.Now);
        page.Store.Ledger.PushDevices.Save(device);
        return TypedResults.Created("/api/notices/browsers", BrowserAnswer.Of(device));
    }

    private static NoContent Remove(PageHome page, string name)
    {
        var devices = page.Store.Ledger.PushDevices;
        var device = devices.All().FirstOrDefault(one => WebPushChannel.NameOf(one) == name)
            ?? throw BadInputException.Unknown($"There is no browser \"{name}\".");
        devices.Remove(device.Endpoint);
        return TypedResults.NoContent();
    }
}

/// <summary>What a browser got when it subscribed.</summary>
/// <param name="Endpoint">The address of its push service; https.</param>
/// <param name="PublicKey">Its key p256dh, base64url.</param>
/// <param name="Secret">Its secret auth, base64url.</param>
/// <param name="Note">What it is called in the list.</param>
internal sealed record BrowserRequest(string Endpoint, string PublicKey, string Secret, string? Note = null)
{
    // RFC 8291: an uncompressed point of P-256, and 16 bytes.
    private const int PublicKeyBytes = 65;
    private const int SecretBytes = 16;

    /// <exception cref="BadInputException">It is no subscription.</exception>
    public PushDevice ToDevice(Instant now)
    {
        if (!Uri.TryCreate(Endpoint, UriKind.Absolute, out var uri) || uri.Scheme != "https")
        {
            throw BadInputException.In("endpoint", "endpoint must be the https address that the browser was given.");
        }

        Check("publicKey", PublicKey, PublicKeyBytes);
        if (!IsOnCurve(Base64Url.DecodeFromChars(PublicKey)))
        {
            throw BadInputException.In("publicKey",
                "publicKey is no point of the curve P-256 (RFC 8291), so nothing could be encrypted for this browser: let it ask again.");
        }

        BadInputException.In("endpoint", () => Core.Bounds.Address.Require(Endpoint));
        BadInputException.In("note", () => Core.Bounds.Note.Require(Note));
        Check("secret", Secret, SecretBytes);
        return new(Endpoint, PublicKey, Secret, Note, now);
    }

    // SEC 1 (2009), section 2.3.3: 4, then x and y of the point.
    private static bool IsOnCurve(byte[] point)
    {
        if (point[0] != 4)
        {
            return false;
        }

        try
        {
            using var key = ECDiffieHellman.Create(
                new ECParameters { Curve = ECCurve.NamedCurves.nistP256, Q = new() { X = point[1..33], Y = point[33..] } });
            return true;
        }
        catch (CryptographicException)
        {
            return false;
        }
    }

    private static void Check(string field, string text, int bytes)
    {
        if (!Base64Url.IsValid(text, out var length) || length != bytes)
        {
            throw BadInputException.In(field, $"{field} must be {bytes} bytes in base64url, as the browser gives it.");
        }
    }
}

/// <summary>A browser that asked to be notified. Its address is a secret and not shown.</summary>
/// <param name="Browser">The name of its channel.</param>
/// <param name="Note">What it is called.</param>
/// <param name="AddedAt">Since when.</param>
internal sealed record BrowserAnswer(string Browser, string? Note, Instant AddedAt)
{
    public static BrowserAnswer Of(PushDevice device) => new(WebPushChannel.NameOf(device), device.Note, device.AddedAt);
}
