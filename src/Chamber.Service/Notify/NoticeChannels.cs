using Chamber.Service.Configuration;
using Chamber.Service.Home.Watching;
using Chamber.Storage;

namespace Chamber.Service.Notify;

/// <summary>The channels that are set up: those of the configuration, and the browsers that asked for notices.</summary>
internal sealed class NoticeChannels : IDisposable
{
    private static readonly TimeSpan Timeout = TimeSpan.FromSeconds(30);

    // A push service says a sentence; where a browser's notices go is what that browser has said.
    private const int AnswerMax = 64 * 1024;

    // What a peer answers leads nowhere else: a notice and its signature go to the address that was set up, or nowhere.
    private readonly HttpClient http = new(new SocketsHttpHandler { AllowAutoRedirect = false })
    {
        Timeout = Timeout,
        MaxResponseContentBufferSize = AnswerMax,
    };
    private readonly Lock gate = new();
    private readonly Dictionary<PushDevice, INoticeChannel> browsers = [];
    private readonly DataDirectory data;
    private readonly TimeProvider time;
    private readonly Func<Notice, NoticePicture?> draw;
    private readonly PushKeys keys;
    private readonly PushDevices devices;
    private volatile Chosen chosen;

    /// <exception cref="BadInputException">A file with a secret cannot be read.</exception>
    public NoticeChannels(NoticeOptions options, DataDirectory data, ChamberStore store, TimeProvider time,
        Func<Notice, NoticePicture?> draw)
    {
        (this.data, this.time, this.draw) = (data, time, draw);
        keys = new(data.PushKeys);
        devices = store.Ledger.PushDevices;
        chosen = Choose(options);
    }

    /// <summary>All that are set up now.</summary>
    public IReadOnlyList<INoticeChannel> All() => chosen is { Push: { } push } now ? [.. now.Set, .. Browsers(push)] : chosen.Set;

    /// <summary>Those of the configuration alone: for when the ledger cannot tell the browsers.</summary>
    public IReadOnlyList<INoticeChannel> OfConfiguration() => chosen.Set;

    /// <summary>Takes other options from now on. What is on its way by the old ones is not cut off.</summary>
    /// <exception cref="BadInputException">A file with a secret cannot be read.</exception>
    public void Use(NoticeOptions options)
    {
        lock (gate)
        {
            chosen = Choose(options);
            browsers.Clear();
        }
    }

    public void Dispose()
    {
        foreach (var channel in browsers.Values.OfType<IDisposable>())
        {
            channel.Dispose();
        }

        http.Dispose();
    }

    private Chosen Choose(NoticeOptions options)
    {
        List<INoticeChannel> set = [];
        if (options.Email is { } email)
        {
            set.Add(new EmailChannel(email with { Password = Secret(data, email.Password, email.PasswordFile) }, draw));
        }

        if (options.Webhook is { } webhook)
        {
            set.Add(new WebhookChannel(webhook with { Secret = Secret(data, webhook.Secret, webhook.SecretFile) }, http, time));
        }

        return new(set, options.WebPush);
    }

    private List<INoticeChannel> Browsers(WebPushOptions options)
    {
        lock (gate)
        {
            var now = devices.All();
            foreach (var gone in browsers.Keys.Except(now).ToList())
            {
                // Not disposed: a notice may be on its way through it.
                browsers.Remove(gone);
            }

            return now.Select(device => browsers.TryGetValue(device, out var channel)
                ? channel
                : browsers[device] = Browser(device, options)).ToList();
        }
    }

    // One browser that cannot be reached is no reason to reach nobody.
    private INoticeChannel Browser(PushDevice device, WebPushOptions options)
    {
        try
        {
            return new WebPushChannel(device, keys.Pair(), options, http, gone => devices.Remove(gone.Endpoint));
        }
        catch (Exception problem) when (problem is BadInputException or IOException or UnauthorizedAccessException)
        {
            return new BrokenChannel(WebPushChannel.NameOf(device), $"No browser can be notified. {problem.Message}");
        }
        catch (Exception problem)
            when (problem is ArgumentException or FormatException or System.Security.Cryptography.CryptographicException)
        {
            return new BrokenChannel(WebPushChannel.NameOf(device),
                $"This browser cannot be notified: {problem.Message} Remove it from the list, let it ask again, and check "
                + $"notices.webPush.contact.");
        }
    }

    private static string? Secret(DataDirectory data, string? value, string? file) =>
        file is null ? value : SecretFile.Read(data.Resolve(file));

    private sealed record Chosen(IReadOnlyList<INoticeChannel> Set, WebPushOptions? Push);
}
