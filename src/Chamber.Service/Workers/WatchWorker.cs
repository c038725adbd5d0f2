using Chamber.Core.Alerts;
using Chamber.Core.Climate;
using Chamber.Service.Home;
using Chamber.Service.Telemetry;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>
/// Runs the watch: rebuilds it from the journal after a start, folds in what the intake commits and what other processes write,
/// and lets time pass.
/// </summary>
internal sealed class WatchWorker(
    ChamberStore store,
    WatchFacts reader,
    WatchInbox inbox,
    AlertDesk desk,
    Outages outages,
    HomeChanges changes,
    AbsenceTeller absence,
    Pulse pulse,
    TimeProvider clock,
    ILogger<WatchWorker> logger) : BackgroundService
{
    private const int RefusalsMax = 1000;
    private static readonly TimeSpan Tick = TimeSpan.FromSeconds(1);
    private static readonly Duration Minute = Duration.FromMinutes(1);
    private static readonly TimeSpan SayAgain = TimeSpan.FromMinutes(1);

    private HomeFacts facts = new();
    private HomeWatch watch = new(new());
    private JournalMark mark = JournalMark.Beginning;
    private (long Others, long Own) version;
    private readonly Queue<WatchEvent> pending = new();
    private Instant lastMinute;
    private (string Problem, long At)? said;

    // Kept from tick to tick: a home in which nothing speaks must not pile up waits.
    private Task<bool>? arriving;

    private Instant Now => Instant.FromDateTimeOffset(clock.GetUtcNow());

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        // The service is ready before the past has been folded again.
        await Task.Yield();
        while (!await Guard(Rebuild, stoppingToken) && !stoppingToken.IsCancellationRequested)
        {
        }

        while (!stoppingToken.IsCancellationRequested)
        {
            await Wait(stoppingToken);
            await Guard(Work, stoppingToken);
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
            said = null;
            pulse.Beat(problem: null);
            return true;
        }
        catch (Exception problem) when (problem is StoreException or LedgerRefusedException or Commands.BadInputException or FormatException)
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
        if (problem.Message != said?.Problem || TimeProvider.System.GetElapsedTime(said.Value.At) >= SayAgain)
        {
            said = (problem.Message, TimeProvider.System.GetTimestamp());
            Log.WatchTrouble(logger, Log.Trace(problem), problem.Message);
        }
    }

    private void Rebuild()
    {
        var now = Now;
        outages.Begin(now);
        version = (store.DataVersion, changes.Count);
        mark = store.Journal.ChangesSince(JournalMark.Beginning).Mark;
        pending.Clear();
        facts = reader.At(now);
        watch = new(facts, desk.Load(now - WatchFacts.Reach), now - WatchFacts.Reach);
        desk.PublishOpen(facts);
        Handle(watch.Rebuild(probe => store.Journal.Read(probe, new(now - WatchFacts.Reach, null)), now));
        Handle(watch.Step(LastRefusals(now), now));
        pulse.Ready();
        Log.WatchRebuilt(logger, facts.Spots.Count, facts.Probes.Count, facts.Batches.Count(watched => watched.Batch.EndedAt is null));
    }

    private void Work()
    {
        var now = Now;
        Drain();
        while (inbox.Reader.TryRead(out var input))
        {
            using var span = Signals.Spans.StartActivity("fold");
            var begun = Signals.Begin(Signals.FoldTime, clock);
            if (input.Readings.Count > 0)
            {
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
            version = current;
            TakeChanges(now);
        }

        if (now - lastMinute >= Minute)
        {
            PassMinute(now);

            // Only now: what could not be written is tried again at the next tick.
            lastMinute = now;
        }
    }

    private void PassMinute(Instant now)
    {
        if (outages.Pass(now) || reader.AreOld(now))
        {
            facts = reader.At(now);
            Handle(watch.Step(facts, now));
        }

        if (!outages.IsDeaf)
        {
            Handle(watch.Step(now));
        }

        desk.TellPeople(facts, now);
        absence.Pass(now);
    }

    /// <summary>Another process has written (the command line, an import), or somebody through the page.</summary>
    private void TakeChanges(Instant now)
    {
        var read = store.Journal.ChangesSince(mark);
        mark = read.Mark;
        facts = reader.At(now);
        Handle(watch.Step(facts, now));
        foreach (var (probe, when) in read.Stretches)
        {
            Handle(watch.Step([.. store.Journal.Read(probe, when)], now));
        }
    }

    private IReadOnlyList<Refusal> LastRefusals(Instant now) =>
        [.. store.Journal.Refusals(RefusalsMax).Where(refusal => now - refusal.ReceivedAt < Duration.FromDays(1)).OrderBy(refusal => refusal.ReceivedAt)];

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

    // An event leaves the queue once it is written down: on a full disk it waits there for the next tick.
    private void Drain()
    {
        var any = pending.Count > 0;
        while (pending.TryPeek(out var happened))
        {
            if (happened is RefoldNeeded late)
            {
                foreach (var next in watch.Refold(late, (probe, from) => store.Journal.Read(probe, new(from ?? Now - WatchFacts.Reach, null)), Now))
                {
                    pending.Enqueue(next);
                }
            }
            else
            {
                desk.Take(happened, facts);
            }

            pending.Dequeue();
        }

        if (any)
        {
            desk.TellPeople(facts, Now);
        }
    }
}
