using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Home.Watching;
using Chamber.Service.Notify;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>Sends the digest once a day, also over restarts: its name is the day's, and a name goes into a channel once.</summary>
internal sealed class DigestWorker(HomeContext context, SettingsInForce notices, NoticeDesk desk, NoticeComposer composer,
    TimeProvider clock, ILogger<DigestWorker> logger) : Worker
{
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(30);

    private LocalDate? done;

    protected override async Task WorkAsync(CancellationToken stop)
    {
        while (true)
        {
            if (notices.Notices.Digest is { At: var at })
            {
                Pass(at);
            }

            await Task.Delay(Look, clock, stop);
        }
    }

    private void Pass(LocalTime at)
    {
        var now = Instant.FromDateTimeOffset(clock.GetUtcNow());
        if (DigestClock.DueOn(at, context.Zone, now) is not { } day || day == done)
        {
            return;
        }

        try
        {
            var home = context.Read();
            if (desk.Put(composer.Of(HomeDigest.Of(home, now), day, now)) > 0)
            {
                Log.DigestMade(logger, day);
            }

            done = day;
        }
        catch (Exception problem) when (problem is StoreException or BadInputException)
        {
            Log.DigestTrouble(logger, Log.Trace(problem), problem.Message);
        }
    }
}
