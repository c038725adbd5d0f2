using Chamber.Core.Alerts;
using Chamber.Core.Climate;
using Chamber.Service.Health;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>
/// Notices that the clock was set, or that the machine slept: says so in the log, takes what the time skipped for one in which nobody
/// watched, and marks readings that the wrong clock has dated. Belongs to the thread of the watch.
/// </summary>
internal sealed class ClockTeller(HomeClock clock, ChamberStore store, ILogger<ClockTeller> logger)
{
    /// <summary>A clock that goes ahead so soon after the start was set by a time service: what came before was dated by guess.</summary>
    private static readonly Duration Catching = Duration.FromHours(1);

    // On a full disk a step waits here for the next turn.
    private readonly Queue<ClockStep> pending = new();
    private string? said;

    /// <summary>Every minute, and at once when the time has jumped.</summary>
    /// <returns>Whether the clock has skipped a time.</returns>
    public bool Pass()
    {
        if (clock.Trouble is { } trouble && trouble.Title != said)
        {
            Log.ClockTrouble(logger, trouble.Title, trouble.What);
        }

        said = clock.Trouble?.Title;
        if (clock.Look() is { } step)
        {
            var sentence = clock.Sentence(step);
            Log.ClockStepped(logger, sentence);
            pending.Enqueue(step);
        }

        var hasSkipped = false;
        while (pending.TryPeek(out var next))
        {
            Record(next);
            hasSkipped |= next.IsAhead;
            pending.Dequeue();
        }

        return hasSkipped;
    }

    private void Record(ClockStep step)
    {
        if (!step.IsAhead)
        {
            store.Journal.Doubt(new(step.To, null), ClockSource.Overtaken);
            return;
        }

        store.Ledger.Alerts.Save(new OutageEntry(new(step.From, step.To), OutageCause.Service));
        if (clock.Running < Catching)
        {
            store.Journal.Doubt(new(step.From - clock.Running, step.From), ClockSource.Doubted);
        }
    }
}
