using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using Chamber.Service.Health;
using Chamber.Service.Home;
using Chamber.Service.Home.Watching;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>
/// Runs the watch: rebuilds it from the journal after a start, folds in what the intake commits and what other processes write,
/// and lets time pass.
/// </summary>
internal sealed class WatchWorker(ChamberStore store, WatchFacts reader, WatchInbox inbox, AlertDesk desk, Outages outages,
    HomeChanges changes, AbsenceTeller absence, WatchPulse pulse, TimeProvider clock, ILogger<WatchWorker> logger) : Worker
{
    private const int RefusalsMax = 1000;
    private static readonly TimeSpan Tick = TimeSpan.FromSeconds(1);
    private static readonly Duration Minute = Duration.FromMinutes(1);

    // What is older when it comes may be of a time in which nobody watched.
    private static readonly Duration Late = Duration.FromMinutes(1);
    private static readonly TimeSpan SayAgain = TimeSpan.FromMinutes(1);

    // It does not repair itself, and health, page and notices tell of it all the time.
    private static readonly TimeSpan SayDamageAgain = TimeSpan.FromHours(1);

    private HomeFacts facts = new();
    private HomeWatch watch = new(new());
    private JournalMark mark = JournalMark.Beginning;
    private (long Others, long Own) version;
    private readonly RenamingFeed renamings = new(store.Facts);
    private readonly Queue<WatchEvent> pending = new();
    private Instant lastMinute;
    private (string Problem, long At)? said;

    // Null in all ordinary times; otherwise the alerts that were opened since.
    private List<Alert>? withoutPast;

    // Kept from tick to tick: a home in which nothing speaks must not pile up waits.
    private Task<bool>? arriving;

    private CancellationToken stopping;

    private Instant Now => Instant.FromDateTimeOffset(clock.GetUtcNow());

    protected override async Task WorkAsync(CancellationToken stop)
    {
        // The service is ready before the past has been folded again.
        await Task.Yield();
        stopping = stop;
        using var closing = inbox.CloseAtEnd();
        while (!await Guard(Rebuild, stop) && !stop.IsCancellationRequested)
        {
        }

        while (!stop.IsCancellationRequested)
        {
            await Wait(stop);
            await Guard(Work, stop);
        }
    }

    private async Task Wait(CancellationToken stop)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(stop);
        var tick = Task.Delay(Tick, clock, limit.Token);
        arriving ??= inbox.Reader.WaitToReadAsync(stop).AsTask();
        await Task.WhenAny(arriving, tick);
        await limit.CancelAsync();
        if (arriving.IsCompleted)
        {
            arriving = null;
        }
    }

    // A full disk or a locked file must not end the watch: what could not be written is tried again at the next tick.
    private async Task<bool> Guard(Action work, CancellationToken stop)
    {
        try
        {
            work();
            pulse.Beat(problem: null);
            return true;
        }
        catch (Exception problem) when (problem is StoreException or Core.RefusedException or BadInputException or FormatException)
        {
            Say(problem);
            pulse.Beat(problem.Message);
            await Task.Delay(Tick, clock, stop).ContinueWith(_ => { }, TaskScheduler.Default);
            return false;
        }
    }

    // It is tried every second, which is too often to say so each time.
    private void Say(Exception problem)
    {
        var again = problem is StoreException { IsDamage: true } ? SayDamageAgain : SayAgain;
        if (problem.Message != said?.Problem || TimeProvider.System.GetElapsedTime(said.Value.At) >= again)
        {
            said = (problem.Message, TimeProvider.System.GetTimestamp());
            Log.WatchTrouble(logger, Log.Trace(problem), problem.Message);
        }
    }

    // What lies on damaged pages cannot be known, and everything else goes on: a spot that gets too hot must be reported all the same.
    private bool Undamaged(Action work)
    {
        try
        {
            work();
            return true;
        }
        catch (StoreException problem) when (problem.IsDamage)
        {
            Say(problem);
            return false;
        }
    }

    internal void Rebuild()
    {
        inbox.Open();
        var now = Now;
        pending.Clear();

        // What people recorded beyond bounds is reported at the start; readings beyond them show only here.
        IReadOnlyList<string> leftOut = [];
        Undamaged(() => FactTables.SetRight(store, logger));
        Undamaged(() => leftOut = store.FindLeftOut());
        if (!Undamaged(() =>
        {
            outages.Begin(now);
            RebuildFromStore(now);
        }))
        {
            RebuildWithoutPast(now);
        }

        pulse.Ready();
        Log.WatchRebuilt(logger, PlainText.Count(facts.Spots.Count, "spot"), PlainText.Count(facts.Probes.Count, "probe"),
            PlainText.Count(facts.Batches.Count(watched => watched.Batch.EndedAt is null), "batch"));
        foreach (var line in store.LeftOut.Except(leftOut))
        {
            Log.LeftOut(logger, line);
        }
    }

    private void RebuildFromStore(Instant now)
    {
        pending.Clear();
        version = (store.DataVersion, changes.Count);
        renamings.Begin();
        mark = store.Journal.ChangesSince(JournalMark.Beginning).Mark;
        facts = reader.At(now);
        watch = new(facts, desk.Load(now - WatchPast.Reach), now - WatchPast.Reach);
        desk.PublishOpen(facts);
        Handle(watch.Rebuild(Past(now), now));
    }

    private WatchPast Journaled(Instant now) => new(Readings, now - WatchPast.Reach)
    {
        Heard = [.. store.Journal.Latest(now).Select(latest => (latest.Probe, latest.MeasuredAt))
            .OrderByDescending(latest => latest.MeasuredAt)],
        Earlier = (probe, upTo) => store.Journal.ReadTemperatures(probe, new(Instant.Min(now - WatchPast.UsualReach, upTo), upTo)),
    };

    private WatchPast Past(Instant now) => Journaled(now) with
    {
        Refusals = [.. store.Journal.Refusals(RefusalsMax).Where(refusal => now - refusal.ReceivedAt < Duration.FromDays(1))
            .OrderBy(refusal => refusal.ReceivedAt)],
        WatchedUpTo = outages.AliveBefore,
    };

    /// <summary>
    /// Without the past nothing that was said can be judged: it is neither closed nor changed. Only danger, which one reading shows, is
    /// reported from now on.
    /// </summary>
    private void RebuildWithoutPast(Instant now)
    {
        withoutPast = [];
        pending.Clear();
        version = (store.DataVersion, changes.Count);
        Undamaged(() => mark = store.Journal.ChangesSince(JournalMark.Beginning).Mark);
        if (!Undamaged(() => facts = reader.At(now)))
        {
            facts = new();
        }

        watch = new(facts);
        Log.WatchWithoutPast(logger);
    }

    internal void Work()
    {
        var now = Now;
        Drain();

        // A clock put back comes first: among readings dated ahead, those by the new time would show what was over as still there.
        if (now + HomeClock.StepMin < lastMinute)
        {
            PassMinute(now);
        }

        while (inbox.Reader.TryRead(out var input))
        {
            using var span = Signals.Spans.StartActivity("fold");
            var begun = Signals.Begin(Signals.FoldTime, clock);
            if (input.Readings.Count > 0)
            {
                NoteLate(input.Readings, now);
                Handle(watch.Step(input.Readings, now));
            }

            if (input.Refusals.Count > 0)
            {
                Handle(watch.Step(input.Refusals, now));
            }

            Signals.Since(Signals.FoldTime, begun, clock);
        }

        var current = (store.DataVersion, changes.Count);
        if (current != version)
        {
            Undamaged(() => TakeChanges(now));

            // Only now: what could not be read is read at the next tick.
            version = current;
        }

        if (now - lastMinute >= Minute || now < lastMinute)
        {
            PassMinute(now);
        }

        Undamaged(() => absence.Pass(now));
    }

    private void PassMinute(Instant now)
    {
        Undamaged(() =>
        {
            var areOthers = outages.Pass(now);
            if (now + HomeClock.StepMin < lastMinute && withoutPast is null)
            {
                // Readings dated ahead by the clock that was put back are no neighbours of what is measured now.
                RebuildFromStore(now);
            }
            else if (areOthers || reader.AreOld(now))
            {
                facts = reader.At(now);
                Handle(watch.Step(facts, now));
            }
        });
        if (!outages.IsDeaf)
        {
            Handle(watch.Step(now));
        }

        Undamaged(() => desk.TellPeople(facts, now));

        // Only now: what could not be written is tried again at the next tick.
        lastMinute = now;
    }

    private void NoteLate(IReadOnlyList<Reading> readings, Instant now)
    {
        var late = readings.Where(reading => now - reading.MeasuredAt > Late).Select(reading => reading.MeasuredAt).ToList();
        if (late.Count > 0)
        {
            absence.Note(new(late.Min(), late.Max() + Duration.Epsilon));
        }
    }

    /// <summary>Another process has written (the command line, an import), or somebody through the page.</summary>
    private void TakeChanges(Instant now)
    {
        var read = store.Journal.ChangesSince(mark);
        var hasRenamed = false;
        Undamaged(() => hasRenamed = withoutPast is null && renamings.HasRenamed());
        if (hasRenamed)
        {
            // What was told of a thing is known under its new name now.
            desk.ClearOpen();
            RebuildFromStore(now);
            return;
        }

        Undamaged(() =>
        {
            facts = reader.At(now);
            Handle(watch.Step(facts, now));
        });
        foreach (var (probe, when) in read.Stretches)
        {
            absence.Note(when);
            Undamaged(() => Handle(watch.Step([.. Readings(probe, when)], now)));
        }

        mark = read.Mark;
    }

    private void Handle(IReadOnlyList<WatchEvent> events)
    {
        if (events.Count > 0)
        {
            changes.NoteHeard();
        }

        foreach (var happened in events)
        {
            pending.Enqueue(happened);
        }

        Drain();
    }

    // An event leaves the queue once it is recorded: on a full disk it waits there for the next tick.
    private void Drain()
    {
        var any = pending.Count > 0;
        while (pending.TryPeek(out var happened))
        {
            stopping.ThrowIfCancellationRequested();
            if (happened is RefoldNeeded late)
            {
                Undamaged(() => Refold(late));
            }
            else if (withoutPast is not null)
            {
                TakeDanger(happened, withoutPast);
            }
            else if (!Undamaged(() => desk.Take(happened, facts)))
            {
                desk.Say(happened, facts);
            }

            pending.Dequeue();
        }

        if (any)
        {
            desk.SayOpened(facts);
            Undamaged(() => desk.TellPeople(facts, Now));
        }
    }

    private IEnumerable<Reading> Readings(ProbeId probe, Instant from) => Readings(probe, new Interval(from, null));

    // Those set aside are among them: that the probe spoke counts, and the watch passes over what it said. A fortnight of a busy home
    // takes seconds on a slow machine, and longer than it is waited for when everything else wants the cores.
    private IEnumerable<Reading> Readings(ProbeId probe, Interval when)
    {
        foreach (var reading in store.Journal.ReadAll(probe, when).Where(reading => reading.Clock != ClockSource.Overtaken))
        {
            stopping.ThrowIfCancellationRequested();
            yield return reading;
        }
    }

    private void Refold(RefoldNeeded late)
    {
        foreach (var next in watch.Refold(late, Journaled(Now), Now))
        {
            pending.Enqueue(next);
        }
    }

    // One that was open before is left in the ledger as it was.
    private void TakeDanger(WatchEvent happened, List<Alert> own)
    {
        if (happened is not AlertEvent { Alert: var alert } || alert.Kind != AlertKind.Hazard)
        {
            return;
        }

        var wasOpen = true;
        if (happened is AlertOpened && Undamaged(() => wasOpen = desk.IsOpen(alert)) && !wasOpen)
        {
            own.Add(alert);
        }

        if (!own.Exists(alert.IsSameAs) || !Undamaged(() => desk.Take(happened, facts)))
        {
            desk.Say(happened, facts);
        }
    }
}
