using Chamber.Service.Configuration;
using Chamber.Service.Health;
using Chamber.Service.Home;
using Chamber.Service.Mirror;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>
/// Sends the history to the server, for as long as it takes. On a thread of its own with reading connections of its own: the
/// intake and the watch never wait for it.
/// </summary>
internal sealed class MirrorWorker(HomeContext home, Settings settings, DataDirectory data, ChamberStore store, TimeProvider clock, ILogger<MirrorWorker> logger) : BackgroundService
{
    // Between two requests of a long history, so that a small machine has time for readings.
    private static readonly TimeSpan Breath = TimeSpan.FromMilliseconds(20);

    private readonly MirrorWait wait = new(new Random(Environment.ProcessId));
    private readonly MirrorSettings mirror = settings.Mirror!;
    private string? trouble;

    /// <summary>How far it is behind, and why.</summary>
    public MirrorHealth Health()
    {
        var status = MirrorStatus.Of(store, MirrorCursor.Load(store, mirror.Target()), Instant.FromDateTimeOffset(clock.GetUtcNow()), isSending: true);
        return new(status.Unsent, status.Behind, Volatile.Read(ref trouble));
    }

    protected override Task ExecuteAsync(CancellationToken stoppingToken) => Task.Run(() => Run(stoppingToken), CancellationToken.None);

    private async Task Run(CancellationToken stop)
    {
        try
        {
            using var hold = await Hold(stop);
            using var server = new MirrorServer(mirror, data);
            var aside = new SetAsideFile(data);
            var pump = new MirrorPump(store, mirror, server.SendAsync, new(() => home.Read()), aside, clock);
            Log.MirrorBegins(logger, mirror.Target(), store.Journal.Unread(pump.Cursor.Mark()).Rows);
            while (true)
            {
                await Task.Delay(await Step(pump, aside, stop), clock, stop);
            }
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            // Asked to stop; the cursor says from where to go on.
        }
        catch (BadInputException problem)
        {
            Tell(problem.Message);
        }
    }

    private async Task<IDisposable> Hold(CancellationToken stop)
    {
        while (true)
        {
            if (MirrorHold.TryTake(data) is { } hold)
            {
                return hold;
            }

            await Task.Delay(mirror.Every.ToTimeSpan(), clock, stop);
        }
    }

    private async Task<TimeSpan> Step(MirrorPump pump, SetAsideFile aside, CancellationToken stop)
    {
        try
        {
            var step = await pump.StepAsync(stop);
            if (step.Trouble is { } problem)
            {
                Tell(problem);
                return wait.Next(step.After);
            }

            if (step.Refused.Count > 0)
            {
                Log.MirrorSetAside(logger, step.Refused.Count, aside.Path, step.Refused[0].Reason);
            }

            Well();
            return pump.HasMore ? Breath : mirror.Every.ToTimeSpan();
        }
        catch (Exception problem) when (problem is StoreException or IOException or BadInputException or FormatException)
        {
            Tell(problem.Message);
            return wait.Next(null);
        }
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

    private void Well()
    {
        if (trouble is not null)
        {
            Log.MirrorUpToDate(logger);
        }

        Volatile.Write(ref trouble, null);
        wait.Reset();
    }
}
