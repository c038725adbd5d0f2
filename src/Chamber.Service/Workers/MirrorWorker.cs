using Chamber.Service.Configuration;
using Chamber.Service.Health;
using Chamber.Service.Home;
using Chamber.Service.Mirror;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>
/// Sends the history to the server, for as long as it takes. On its own thread with its own reading connections: the
/// intake and the watch never wait for it.
/// </summary>
internal sealed class MirrorWorker(HomeContext home, Settings settings, DataDirectory data, ChamberStore store, TimeProvider clock,
    ILogger<MirrorWorker> logger) : Worker
{
    // Between two requests of a long history, so that a small machine has time for readings.
    private static readonly TimeSpan Breath = TimeSpan.FromMilliseconds(20);

    private readonly MirrorSettings mirror = settings.Mirror!;
    private string? trouble;

    /// <summary>How far it is behind, and why.</summary>
    public CopyHealth Health()
    {
        var status = MirrorStatus.Of(store, MirrorCursor.Load(store, mirror.Target()), Instant.FromDateTimeOffset(clock.GetUtcNow()),
            isSending: true);
        return new(status.Unsent, status.Behind?.TotalHours, Volatile.Read(ref trouble));
    }

    protected override Task WorkAsync(CancellationToken stop) => Task.Run(() => Run(stop), CancellationToken.None);

    private async Task Run(CancellationToken stop)
    {
        try
        {
            using var hold = await SendingHold.TakeAsync(data.MirrorLock, mirror.Every, clock, stop);
            using var server = new MirrorServer(mirror, data);
            var aside = new SetAsideFile(data);
            var pump = new MirrorPump(store, mirror, server.SendAsync, new(store, () => home.Read()), aside, clock);
            Log.MirrorBegins(logger, mirror.Target(), store.Journal.Unread(pump.Cursor.Mark()).Rows);
            var patience = MirrorBackOff.Of(clock, new Random(Environment.ProcessId), (problem, _) => Tell(problem));
            while (true)
            {
                Note(await patience.ExecuteAsync(async cancel => await pump.StepAsync(cancel), stop), aside);
                await Task.Delay(pump.HasMore ? Breath : mirror.Every.ToTimeSpan(), clock, stop);
            }
        }
        catch (BadInputException problem)
        {
            Tell(problem.Message);
        }
    }

    private void Note(PumpStep step, SetAsideFile aside)
    {
        if (step.Refused.Count > 0)
        {
            Log.MirrorSetAside(logger, step.Refused.Count, aside.Path, step.Refused[0].Reason);
        }

        if (trouble is not null)
        {
            Log.MirrorUpToDate(logger);
        }

        Volatile.Write(ref trouble, null);
    }

    // Said once, not at each try.
    private void Tell(string problem)
    {
        if (trouble is null)
        {
            Log.MirrorTrouble(logger, problem);
        }

        Volatile.Write(ref trouble, problem);
    }
}
