using Chamber.Club.Checkpoints;
using Chamber.Club.Store;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Notices;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Forecasts.Learning;
using NodaTime;

namespace Chamber.Club.Homes;

/// <summary>
/// A home with its watch: the same fold of facts and readings as at home, made from the database when it is first wanted and then carried
/// on from a mark. Belongs to one caller at a time. What is folded is loaded first: no thread waits for the database.
/// </summary>
internal sealed class WatchedHome
{
    // A telling takes milliseconds; a silo that is busy takes longer.
    private static readonly Duration ToldWithin = Duration.FromSeconds(5);

    // What was refused before says nothing of now.
    private static readonly Duration RefusedReach = Duration.FromDays(1);

    // What has come in since is soon taken in again; a checkpoint more often would write more than the readings do.
    private static readonly Duration KeptEvery = Duration.FromHours(1);

    private readonly ClubDatabase club;
    private readonly int home;
    private readonly IHomeStore store;
    private readonly HomeInsight insight;
    private readonly Queue<WatchEvent> pending = new();
    private readonly List<(long Number, Alert Alert)> told = [];
    private FactLog log = FactLog.Of([]);
    private HomeFacts facts = new();
    private HomeWatch? watch;
    private JournalMark mark = JournalMark.Beginning;
    private long refused;

    // Whether all of it is to be folded again, since something has another name or is set otherwise.
    private bool isOther;
    private Instant? endedAfter;
    private ShownHome? shown;
    private Instant keptAt = Instant.MinValue;
    private bool isAhead;

    /// <param name="club">The club's database.</param>
    /// <param name="home">The home's number.</param>
    /// <param name="others">What other homes have taught; null for nothing.</param>
    public WatchedHome(ClubDatabase club, int home, Func<CancellationToken, Task<SharedKnowledge?>>? others = null)
    {
        (this.club, this.home, store) = (club, home, club.Home(home));
        insight = new(club, home, () => log, others ?? (_ => Task.FromResult<SharedKnowledge?>(null)));
    }

    /// <summary>Whether the watch stands.</summary>
    public bool IsWatched => watch is not null;

    /// <summary>Whether it went on from a checkpoint, and did not read its past.</summary>
    public bool IsFromCheckpoint { get; private set; }

    /// <summary>Why a checkpoint that was there was passed over; null when there was none, or it was used.</summary>
    public string? PassedOver { get; private set; }

    /// <summary>What is known of the home by facts.</summary>
    public HomeFacts Facts => facts;

    /// <summary>What the watch is given to know.</summary>
    public HomeInsight Insight => insight;

    /// <summary>Whether there is an alert of which people may still have to hear.</summary>
    public bool HasAlertsAt(Instant now) =>
        told.Exists(one => one.Alert.ClosedAt is not { } closed || closed >= now - NoticePolicy.Stale);

    /// <summary>Takes in what is new, lets time pass, and writes down what there is to say of it.</summary>
    /// <returns>Alerts that are told for the first time, and whether something had come in before the time that a telling takes.</returns>
    /// <exception cref="StoreException">The database is away; the next call goes on where this one stopped.</exception>
    public async Task<(IReadOnlyList<Alert> Told, bool HadWaited)> CatchUpAsync(Instant now, CancellationToken cancel)
    {
        var isResumed = watch is null && await ResumeAsync(now, cancel);
        var news = await NewsAsync(now, cancel);
        var hadWaited = false;
        isAhead |= news is not { Facts: [], Readings: [], Stretches: [], Refusals: [] };
        isOther |= insight.Set(news.Settings) | Learn(news.Facts, now);

        // Whoever wakes takes in first what has come in; what follows from it for surveys and forecasts waits for the next look.
        var isOld = insight.IsOldAt(now) && !(isResumed && news.Facts.Count == 0);
        if (isOld)
        {
            facts = await insight.AtAsync(now, endedAfter, cancel);
        }

        if (isOther || watch is null)
        {
            await RebuildAsync(news, now, cancel);
            isOther = false;
        }
        else
        {
            if (isOld)
            {
                Take(watch.Step(facts, now));
            }

            hadWaited = await FollowAsync(watch, news, now, cancel);
        }

        return (await DrainAsync(watch!, now, cancel), hadWaited);
    }

    /// <summary>Writes down how far the home has come, so that whoever wakes it next need not read its past: once an hour, and at once when
    /// an alert was told, since a checkpoint from before that would not fit.</summary>
    /// <param name="now">The present; null to write it in any case.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <exception cref="StoreException">The database is away.</exception>
    /// <exception cref="GraphException">It cannot be written down.</exception>
    public async Task KeepAsync(Instant? now, CancellationToken cancel)
    {
        if (watch is null || pending.Count > 0 || !isAhead || now < keptAt + KeptEvery)
        {
            return;
        }

        var body = new HomeCheckpoint(watch, facts, insight.SetText, told, mark, refused).Write(insight.Settings);
        await club.AsAsync(
            home, session => CheckpointRows.KeepAsync(session, home, GraphTypes.Stamp, new(log.Last, endedAfter!.Value, body)), cancel);
        (keptAt, isAhead) = (now ?? keptAt, false);
    }

    /// <summary>The home as it is now: what was measured last, and the alerts that were told. While the database is away, as it was
    /// shown last.</summary>
    /// <exception cref="StoreException">The database is away, and nothing was shown before.</exception>
    public async Task<ShownHome> ShowAsync(Instant now, CancellationToken cancel)
    {
        try
        {
            if (watch is null)
            {
                Learn(await store.FactsSinceAsync(log.Last, cancel), now);
                insight.Set(await club.AsAsync(home, session => SettingRows.ReadAsync(session, home), cancel));
                facts = insight.Written(endedAfter);
            }

            var latest = (await store.LatestAsync(now, cancel)).ToDictionary(one => one.Probe);
            var open = await club.AsAsync(home, session => AlertRows.SinceAsync(session, home, Instant.MaxValue), cancel);
            var result = new ShownHome(
                [.. log.Home.Spots.Select(spot => (Spot: spot.Id, Last: LastOnSpot.Of(log.Home.ToParts(), spot.Id, latest)))
                    .Select(one => new ShownSpot(one.Spot.Text, one.Last?.Value.Celsius, one.Last?.At.ToDateTimeUtc()))],
                [.. open.Select(one => AlertRecords.ToAlert(one.Alert)).OfType<Alert>().Select(Shown)],
                IsWatched, !await HasWaitedAsync(now, cancel), null);
            shown = result with { AsOf = now.ToDateTimeUtc() };
            return result;
        }
        catch (StoreException problem) when (problem.Fault == StoreFault.Away && shown is not null)
        {
            return shown;
        }
    }

    // Whether something has come in that was not looked at within the time that a telling takes.
    private async Task<bool> HasWaitedAsync(Instant now, CancellationToken cancel)
    {
        if (watch is null)
        {
            return false;
        }

        var news = await NewsAsync(now, cancel);
        var hasWaited = HasWaited(news.Readings, now);
        foreach (var (probe, when) in news.Stretches)
        {
            await foreach (var reading in store.ReadingsAsync(probe, when, cancel))
            {
                hasWaited |= HasWaited([reading], now);
            }
        }

        return hasWaited;
    }

    private static bool HasWaited(IEnumerable<Reading> readings, Instant now) =>
        readings.Any(reading => reading.ReceivedAt < now - ToldWithin);

    private Task<HomeNews> NewsAsync(Instant now, CancellationToken cancel) =>
        club.NewsAsync(home, new(log.Last, mark, refused, now - RefusedReach), cancel);

    // Whether something has another name now.
    private bool Learn(IReadOnlyList<FactEntry> more, Instant now)
    {
        endedAfter ??= now - WatchPast.Reach;
        if (more.Count == 0)
        {
            return false;
        }

        var before = log.Home;
        log = FactLog.Of([.. log.Entries, .. more]);
        insight.NoteWritten();
        return !before.Renamed.SequenceEqual(log.Home.Renamed);
    }

    // Goes on where a checkpoint says that the home had come; where there is none that fits, the watch stays to be made.
    private async Task<bool> ResumeAsync(Instant now, CancellationToken cancel)
    {
        var (kept, settings, alerts, more) = await club.AsAsync(home, async session => (
            await CheckpointRows.FindAsync(session, home, GraphTypes.Stamp), await SettingRows.ReadAsync(session, home),
            await AlertRows.SinceAsync(session, home, now - WatchPast.Reach), await FactRows.SinceAsync(session, home, log.Last)), cancel);
        FactEntry[] all = [.. log.Entries, .. more];
        if (kept is null || (all is [.., var last] ? last.Number : 0) < kept.Facts)
        {
            PassedOver = kept is null ? null : "it rests on facts that are not there";
            return false;
        }

        insight.Set(settings);
        var known = FactLog.Of([.. all.TakeWhile(entry => entry.Number <= kept.Facts)]);
        if (HomeCheckpoint.Read(kept.Body, insight.Settings) is not { } found)
        {
            PassedOver = "it is damaged";
            return false;
        }

        if (found.Settings != settings || !found.HasTold(alerts, known))
        {
            PassedOver = "something was set or told since";
            return false;
        }

        (log, facts, endedAfter, watch, mark) = (known, found.Facts, kept.EndedAfter, found.Watch, found.Mark);
        (refused, keptAt, IsFromCheckpoint) = (found.Refused, now, true);
        told.AddRange(found.Told);
        return true;
    }

    private async Task RebuildAsync(HomeNews news, Instant now, CancellationToken cancel)
    {
        pending.Clear();
        (keptAt, isAhead, IsFromCheckpoint) = (Instant.MinValue, true, false);
        mark = (await store.ChangesSinceAsync(JournalMark.Beginning, cancel)).Mark;
        told.Clear();
        var from = now - WatchPast.Reach;
        foreach (var (entry, known) in await club.AsAsync(home, session => AlertRows.SinceAsync(session, home, from), cancel))
        {
            if (AlertRecords.ToAlert(entry) is { } alert)
            {
                told.Add((entry.Number, alert with { Subject = AlertNames.Now(log, alert.Subject, known) }));
            }
        }

        var refusals = await club.AsAsync(home, session => RefusalRows.SinceAsync(session, home, 0, now - RefusedReach), cancel);
        var loaded = new LoadedStore(store);
        HomeWatch Made() => new(facts, [.. told.Select(one => one.Alert)], from);
        foreach (var load in Read(loaded, now, past => Made().Rebuild(past, now)))
        {
            await load();
        }

        (watch, var events) = await AtHand.AskAsync(() =>
        {
            var made = Made();
            return (made, made.Rebuild(Past(loaded, now) with { Refusals = refusals }, now));
        }, cancel);
        refused = news.LastRefusal;
        Take(events);
    }

    // What a watch reads does not depend on what was measured: one that finds nothing shows it.
    private List<Func<Task>> Read(LoadedStore loaded, Instant now, Action<WatchPast> fold)
    {
        var read = new List<Func<Task>>();
        fold(Past(loaded, now) with
        {
            Read = (probe, from) => Nothing(loaded.ReadingsAsync(probe, new(from, null))),
            Earlier = (probe, upTo) => Nothing(loaded.TemperaturesAsync(probe, Usual(upTo, now)))
                .SelectMany(_ => Array.Empty<TemperatureSample>()),
        });
        return read;

        IEnumerable<T> Nothing<T>(IAsyncEnumerable<T> stream)
        {
            read.Add(async () => await stream.AnyAsync());
            return [];
        }
    }

    private async Task<bool> FollowAsync(HomeWatch watching, HomeNews news, Instant now, CancellationToken cancel)
    {
        Take(watching.Step(news.Readings, now));
        var hadWaited = HasWaited(news.Readings, now);
        foreach (var (probe, when) in news.Stretches)
        {
            var readings = new List<Reading>();
            await foreach (var reading in store.ReadingsAsync(probe, when, cancel))
            {
                readings.Add(reading);
            }

            Take(watching.Step(readings, now));
            hadWaited |= HasWaited(readings, now);
        }

        if (news.Refusals.Count > 0)
        {
            Take(watching.Step(news.Refusals, now));
        }

        Take(watching.Step(now));
        (mark, refused) = (news.Mark, news.LastRefusal);
        return hadWaited;
    }

    // An event leaves the queue once it is written down.
    private async Task<IReadOnlyList<Alert>> DrainAsync(HomeWatch watching, Instant now, CancellationToken cancel)
    {
        var opened = new List<Alert>();
        while (pending.TryPeek(out var happened))
        {
            if (happened is RefoldNeeded late)
            {
                // It reads all of it before it changes anything, so it can be asked again.
                var loaded = new LoadedStore(store);
                Take(await AtHand.AskAsync(() => watching.Refold(late, Past(loaded, now), now), cancel));
            }
            else if (happened is AlertEvent { Alert: var alert } && await WriteAsync(alert, cancel))
            {
                opened.Add(alert);
            }

            pending.Dequeue();
        }

        return opened;
    }

    // Whether it is told for the first time.
    private async Task<bool> WriteAsync(Alert alert, CancellationToken cancel)
    {
        var at = told.FindLastIndex(one => one.Alert.IsSameAs(alert));
        var (number, isNew) = await club.AsAsync(home, async session =>
        {
            await session.LockAsync([home]);
            return await AlertRows.SaveAsync(session, home, AlertRecords.ToEntry(alert, at < 0 ? 0 : told[at].Number), log.Last);
        }, cancel);
        if (at >= 0)
        {
            told.RemoveAt(at);
        }

        // A row is one alert, whatever was said of it before.
        told.RemoveAll(one => one.Number == number);
        told.Add((number, alert));
        (keptAt, isAhead) = (Instant.MinValue, true);
        told.RemoveAll(one => one.Alert.ClosedAt is { } closed && alert.OpenedAt - closed > WatchPast.Reach);
        return isNew;
    }

    private WatchPast Past(LoadedStore loaded, Instant now) => new(
        (probe, from) => AtHand.Of(loaded.ReadingsAsync(probe, new(from, null))), now - WatchPast.Reach)
    {
        Heard = [.. mark.Newest.Select(one => (one.Key, one.Value)).OrderByDescending(one => one.Value)],
        Earlier = (probe, upTo) => AtHand.Of(loaded.TemperaturesAsync(probe, Usual(upTo, now))).SelectMany(part => part.ToArray()),
    };

    private static Interval Usual(Instant upTo, Instant now) => new(Instant.Min(now - WatchPast.UsualReach, upTo), upTo);

    private ShownAlert Shown(Alert alert)
    {
        var words = ConditionRegistry.InWords(alert, facts, insight.Style);
        return new(words.Title, words.ToString(), alert.OpenedAt.ToDateTimeUtc());
    }

    private void Take(IReadOnlyList<WatchEvent> events)
    {
        foreach (var happened in events)
        {
            pending.Enqueue(happened);
        }
    }
}
