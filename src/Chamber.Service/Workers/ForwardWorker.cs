using Chamber.Mqtt.Forwarding;
using Chamber.Service.Configuration;
using Chamber.Service.Forwarding;
using Chamber.Service.Health;
using Chamber.Service.Mirror;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>Sends readings to the club for as long as it takes: the journal is what waits, and nothing waits for the club.</summary>
internal sealed class ForwardWorker(Settings settings, DataDirectory data, ChamberStore store, TimeProvider clock,
    ILogger<ForwardWorker> logger) : Worker
{
    private readonly ClubSettings club = settings.Club!;
    private string? trouble;

    /// <summary>How far the club is behind, and why.</summary>
    public CopyHealth Health()
    {
        var status = ForwardStatus.Of(store, ForwardCursor.Load(store, club.Target()), Instant.FromDateTimeOffset(clock.GetUtcNow()),
            isSending: true);
        return new(status.Unsent, status.Behind?.TotalHours, Volatile.Read(ref trouble));
    }

    protected override Task WorkAsync(CancellationToken stop) => Task.Run(() => Run(stop), CancellationToken.None);

    private async Task Run(CancellationToken stop)
    {
        using var hold = await SendingHold.TakeAsync(data.ClubLock, club.Every, clock, stop);
        using var connection = new ClubConnection(BrokerParts.OfClub(club, data), club.Home, clock);
        var pump = new ForwardPump(store, club, connection, clock);
        Log.ForwardBegins(logger, club.Target(), store.Journal.Unread(pump.Cursor.Mark()).Rows);
        var patience = MirrorBackOff.Of(clock, new Random(Environment.ProcessId), (problem, _) => Tell(problem));
        while (true)
        {
            await patience.ExecuteAsync(async cancel => await pump.StepAsync(cancel), stop);
            if (Interlocked.Exchange(ref trouble, null) is not null)
            {
                Log.ForwardAgain(logger);
            }

            await Task.Delay(pump.HasMore ? TimeSpan.FromMilliseconds(20) : club.Every.ToTimeSpan(), clock, stop);
        }
    }

    // Said once, not at each try.
    private void Tell(string problem)
    {
        if (Interlocked.Exchange(ref trouble, problem) is null)
        {
            Log.ForwardTrouble(logger, problem);
        }
    }
}
