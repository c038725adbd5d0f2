using Chamber.Core.Alerts;
using Chamber.Core.Digests;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Notify;
using Chamber.Storage;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Workers;

/// <summary>
/// After the service was down: says from when to when nobody watched, and what each spot reached by the readings that sensors and
/// broker had kept. Told once, also over further restarts. Belongs to the thread of the watch.
/// </summary>
internal sealed class AbsenceTeller(Settings settings, DataDirectory data, ChamberStore store, NoticeDesk desk, NoticeComposer composer, ILogger<AbsenceTeller> logger)
{
    private const string ToldSetting = "absence.told";

    /// <summary>A restart or an update is no absence.</summary>
    private static readonly Duration LengthMin = Duration.FromMinutes(15);

    /// <summary>What the broker kept needs a little time to come in.</summary>
    private static readonly Duration Wait = Duration.FromMinutes(2);

    private static readonly Duration Stale = Duration.FromHours(24);

    /// <summary>Every minute.</summary>
    public void Pass(Instant now)
    {
        var told = store.Ledger.Settings.Get(ToldSetting) is { } text && InstantPattern.ExtendedIso.Parse(text) is { Success: true } parsed ? parsed.Value : Instant.MinValue;
        foreach (var away in store.Ledger.Alerts.Outages().Where(outage => outage.Cause == nameof(OutageCause.Service) && outage.When.HasEnd).Select(outage => outage.When))
        {
            if (away.End > told && away.End > now - Stale && now - away.End >= Wait && away.Duration >= LengthMin)
            {
                Tell(away, now);
                store.Ledger.Settings.Set(ToldSetting, InstantPattern.ExtendedIso.Format(away.End));
            }
        }
    }

    private void Tell(Interval away, Instant now)
    {
        var home = NoticeParts.Reader(settings, data, store);
        var spots = home.Spots();
        var reached = spots.Select(spot => Reach(home, spot.Id, away)).OfType<SpotReach>().ToList();
        var notice = composer.NotWatched(away, reached, spots.Count - reached.Count, home.Scale, now);
        Log.NotWatched(logger, notice.Title, notice.Body.ReplaceLineEndings(" "));
        desk.Put(notice);
    }

    private static SpotReach? Reach(HomeReader home, Core.Spots.SpotId spot, Interval away)
    {
        var all = home.Trace(spot, away).Stretches.SelectMany(stretch => stretch.Samples).Select(sample => sample.Temperature).ToList();
        return all.Count == 0 ? null : new(spot, all.Min(), all.Max());
    }
}
