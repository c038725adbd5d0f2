using System.Text.Json;
using Chamber.Core.Alerts;
using Chamber.Core.Digests;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using Chamber.Service.Notify;
using Chamber.Storage;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Workers;

/// <summary>
/// After the service was down: says from when to when nobody watched, and what each spot reached by the readings that sensors and broker
/// had kept. Readings of that time may come for days, from a probe's own memory or a file: when they show more, that is said too, a few
/// times at most. What was said is recorded, so that no restart says it again. Belongs to the thread of the watch.
/// </summary>
internal sealed class AbsenceTeller(ChamberStore store, Func<HomeReader> home, Func<Notice, int> put, NoticeComposer composer,
    ILogger<AbsenceTeller> logger)
{
    private const string SaidSetting = "absence.said";

    /// <summary>A restart or an update is no absence.</summary>
    private static readonly Duration LengthMin = Duration.FromMinutes(15);

    /// <summary>What comes in at one go is said at one go.</summary>
    private static readonly Duration Settle = Duration.FromSeconds(20);

    /// <summary>An absence that ended longer ago than this is not reported for the first time.</summary>
    private static readonly Duration Stale = Duration.FromHours(24);

    /// <summary>For so long readings of it may change what was said: as long as a payload's own time is believed.</summary>
    private static readonly Duration Kept = Duration.FromDays(31);

    private static readonly Duration Minute = Duration.FromMinutes(1);
    private static readonly Duration LookMax = Duration.FromMinutes(2);
    private const int TimesMax = 5;

    // By less an extreme is not worth another word.
    private const double MoreKelvins = 0.5;

    private readonly Dictionary<Instant, Instant> heardOf = [];
    private readonly List<Interval> arrived = [];
    private Instant next = Instant.MinValue;
    private bool began;

    /// <summary>Readings of a time that is past, be it without a beginning, have just come in.</summary>
    public void Note(Interval when)
    {
        arrived.Add(when);
        next = Instant.MinValue;
    }

    /// <summary>At each turn of the watch; looks no more often than there may be something to say.</summary>
    public void Pass(Instant now)
    {
        // Never further ahead than this, unless the clock has been put back.
        if (now < next && next <= now + LookMax)
        {
            return;
        }

        next = now + Minute;
        var said = Said().Where(one => now - one.End < Kept).ToDictionary(one => one.Start);
        foreach (var away in store.Ledger.Alerts.Outages().Where(IsAbsence).Select(outage => outage.When))
        {
            Pass(away, said, now);
        }

        arrived.Clear();
        began = true;
    }

    private static bool IsAbsence(OutageEntry outage) =>
        outage.Cause == OutageCause.Service && outage.When.HasEnd && outage.When.Duration >= LengthMin;

    private void Pass(Interval away, Dictionary<Instant, SaidAbsence> said, Instant now)
    {
        var before = said.GetValueOrDefault(away.Start);
        if (before is null ? now - away.End >= Stale : now - away.End >= Kept || before.Times >= TimesMax)
        {
            return;
        }

        // After a start it is not known what came in while nobody listened.
        if (!began || arrived.Exists(when => (!when.HasStart || when.Start < away.End) && (!when.HasEnd || when.End > away.Start)))
        {
            heardOf[away.Start] = now;
        }

        if (before is not null && !heardOf.ContainsKey(away.Start))
        {
            return;
        }

        var due = Instant.Max(away.End, heardOf.GetValueOrDefault(away.Start, away.End)) + Settle;
        if (now < due)
        {
            next = Instant.Min(next, due);
            return;
        }

        heardOf.Remove(away.Start);
        Tell(away, before, said, now);
    }

    private void Tell(Interval away, SaidAbsence? before, Dictionary<Instant, SaidAbsence> said, Instant now)
    {
        var reader = home();
        var spots = reader.Spots();
        var reached = spots.Select(spot => Reach(reader, spot.Id, away)).OfType<SpotReach>().ToList();
        if (before is not null && !reached.Exists(spot => before.IsNews(spot, MoreKelvins)))
        {
            return;
        }

        var times = (before?.Times ?? 0) + 1;
        var notice = composer.NotWatched(away, reached, spots.Count - reached.Count, times, reader.Scale, now);
        Log.NotWatched(logger, notice.Title, notice.Body.ReplaceLineEndings(" "));
        put(notice);
        said[away.Start] = new(away.Start, away.End, times,
            reached.ToDictionary(spot => spot.Spot.Text, spot => new[] { spot.Low.Celsius, spot.High.Celsius }));
        store.Ledger.Settings.Set(SaidSetting, JsonSerializer.Serialize(said.Values.Select(SaidRow.Of), JsonText.Compact));
    }

    private static SpotReach? Reach(HomeReader home, SpotId spot, Interval away)
    {
        var all = home.Trace(spot, away).Stretches.SelectMany(stretch => stretch.Samples).Select(sample => sample.Temperature).ToList();
        return all.Count == 0 ? null : new(spot, all.Min(), all.Max());
    }

    private IEnumerable<SaidAbsence> Said() =>
        store.Ledger.Settings.Get(SaidSetting) is { } text ? (JsonSerializer.Deserialize<List<SaidRow>>(text, JsonText.Options) ?? [])
            .Select(row => row.ToSaid()) : [];

    /// <summary>What was said of an absence: the lowest and the highest temperature of each spot, °C.</summary>
    private sealed record SaidAbsence(Instant Start, Instant End, int Times, IReadOnlyDictionary<string, double[]> Reached)
    {
        public bool IsNews(SpotReach spot, double kelvins) => !Reached.TryGetValue(spot.Spot.Text, out var known)
            || spot.Low.Celsius <= known[0] - kelvins || spot.High.Celsius >= known[1] + kelvins;
    }

    /// <summary>The same as it is kept.</summary>
    private sealed record SaidRow(string Start, string End, int Times, Dictionary<string, double[]> Reached)
    {
        public static SaidRow Of(SaidAbsence said) =>
            new(InstantPattern.ExtendedIso.Format(said.Start), InstantPattern.ExtendedIso.Format(said.End), said.Times,
                said.Reached.ToDictionary());

        public SaidAbsence ToSaid() =>
            new(InstantPattern.ExtendedIso.Parse(Start).Value, InstantPattern.ExtendedIso.Parse(End).Value, Times, Reached);
    }
}
