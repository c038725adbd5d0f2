using Chamber.Service.Configuration;
using Chamber.Service.Notify;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>
/// While nothing can be stored no alert opens, and no notice can wait in the ledger; of a damaged file nobody knows what it lacks; and a
/// wrong clock dates everything wrongly. So people are notified of that itself, once for each time and channel, bypassing the ledger; in
/// quiet hours nobody is woken. When nothing could be stored, <see cref="AbsenceTeller"/> tells afterwards what was missed.
/// </summary>
internal sealed class TroubleWorker(
    Func<HomeTrouble?> ofHome, NoticeChannels channels, NoticeComposer composer, Settings settings, SettingsInForce inForce,
        TimeProvider clock, ILogger<TroubleWorker> logger) : Worker
{
    /// <summary>A lock, or a disk that somebody is just clearing, needs no word.</summary>
    public static readonly Duration TellAfter = Duration.FromMinutes(3);

    private static readonly TimeSpan Look = TimeSpan.FromSeconds(30);

    private readonly HashSet<string> told = new(StringComparer.Ordinal);
    private readonly DateTimeZone zone = settings.Zone;
    private string? title;
    private Instant since;

    protected override async Task WorkAsync(CancellationToken stop)
    {
        while (true)
        {
            await PassAsync(stop);
            await Task.Delay(Look, clock, stop);
        }
    }

    /// <summary>Looks whether people are to be notified now, and notifies them.</summary>
    internal async Task PassAsync(CancellationToken cancellationToken)
    {
        var now = Instant.FromDateTimeOffset(clock.GetUtcNow());
        var trouble = ofHome();
        if (trouble?.Title != title)
        {
            (title, since) = (trouble?.Title, now);
            told.Clear();
        }

        if (trouble is null)
        {
            return;
        }

        if (now - since < TellAfter || inForce.QuietHours is { } hours && new Core.Forecasts.QuietHours(hours.From, hours.To)
            .Hold(now.InZone(zone).TimeOfDay))
        {
            return;
        }

        var notice = composer.CannotStore(trouble, since, now);
        foreach (var channel in Channels().Where(channel => !channel.OnlyWhenUnseen && !told.Contains(channel.Name)))
        {
            await TellAsync(channel, notice, cancellationToken);
        }
    }

    private IReadOnlyList<INoticeChannel> Channels()
    {
        try
        {
            return channels.All();
        }
        catch (StoreException)
        {
            return channels.OfConfiguration();
        }
    }

    private async Task TellAsync(INoticeChannel channel, Notice notice, CancellationToken cancellationToken)
    {
        var delivery = await SendAsync(channel, notice, cancellationToken);
        if (delivery.Outcome != DeliveryOutcome.TryLater)
        {
            told.Add(channel.Name);
        }

        if (delivery.Outcome == DeliveryOutcome.Delivered)
        {
            Log.ToldOfTrouble(logger, channel.Name);
        }
        else
        {
            Log.NotToldOfTrouble(logger, channel.Name, delivery.Reason);
        }
    }

    private static async Task<Delivery> SendAsync(INoticeChannel channel, Notice notice, CancellationToken cancellationToken)
    {
        // A browser that is gone could not be forgotten, or the channel has its own fault.
        return await ChannelProof.SendAsync(channel, notice, cancellationToken);
    }
}
