using Chamber.Mqtt;
using Chamber.Mqtt.Broker;
using Chamber.Mqtt.Connection;
using Chamber.Service.Configuration;
using Chamber.Service.Health;

namespace Chamber.Service.Workers;

/// <summary>Runs the intake, and the own broker or the connection to the one that is there. Ready when it has started.</summary>
internal sealed class BrokerWorker : IHostedService, IAsyncDisposable
{
    private readonly Settings settings;
    private readonly DataDirectory data;
    private readonly Intake intake;
    private readonly BrokenParts broken;
    private readonly TimeProvider clock;
    private readonly ILogger<BrokerWorker> logger;
    private readonly BuiltInBroker? own;
    private readonly Subscriber? joined;
    private readonly CancellationTokenSource stop = new();
    private Task running = Task.CompletedTask;

    public BrokerWorker(Settings settings, DataDirectory data, Intake intake, BrokenParts broken, TimeProvider clock,
        ILoggerFactory loggers)
    {
        (this.broken, this.clock) = (broken, clock);
        this.settings = settings;
        this.data = data;
        this.intake = intake;
        logger = loggers.CreateLogger<BrokerWorker>();
        if (settings.Broker.Own)
        {
            own = new(BrokerParts.Own(settings.Broker, data, settings.Limits.PayloadBytes), intake.Map, intake.Readings,
                new(data.BrokerUsers), data.BrokerRetained, loggers.CreateLogger<BuiltInBroker>());
        }
        else
        {
            // Waits between tries only have to differ from those of other clients.
            var jitter = new Random(Environment.ProcessId);
            joined = new(BrokerParts.Joined(settings.Broker, data), intake.Map, intake.Readings, clock, jitter,
                loggers.CreateLogger<Subscriber>());
        }
    }

    /// <summary>The way out for messages.</summary>
    public IPublisher Publisher => own is not null ? own : joined!;

    /// <summary>Whether readings can arrive.</summary>
    public BrokerState State => new(joined is null || joined.IsConnected, joined?.Fault);

    public async Task StartAsync(CancellationToken cancellationToken)
    {
        WarnWithoutUsers();
        if (own is not null)
        {
            await own.StartAsync();
        }

        running = Task.WhenAll(
            Fenced("intake", intake.Readings.RunAsync),
            joined is null ? Task.CompletedTask : Fenced("broker connection", joined.RunAsync));
    }

    public async Task StopAsync(CancellationToken cancellationToken)
    {
        await stop.CancelAsync();
        await running;
        if (own is not null)
        {
            await own.DisposeAsync();
        }
    }

    public ValueTask DisposeAsync()
    {
        stop.Dispose();
        return ValueTask.CompletedTask;
    }

    // Without a fence a fault in here would be heard of only at the end, with no reading taken in until then.
    private Task Fenced(string part, Func<CancellationToken, Task> run) => Task.Run(
        async () =>
        {
            for (var faults = 1; !stop.IsCancellationRequested; faults++)
            {
                try
                {
                    await run(stop.Token);
                    return;
                }
                catch (OperationCanceledException) when (stop.IsCancellationRequested)
                {
                    return;
                }
#pragma warning disable CA1031 // Whatever it is, readings have to be taken in again.
                catch (Exception problem)
#pragma warning restore CA1031
                {
                    broken.Broke(part, NodaTime.Instant.FromDateTimeOffset(clock.GetUtcNow()), problem.Message);
                    Log.WorkerFaulted(logger, problem, part, (int)Fence.WaitAfter(faults).TotalSeconds, problem.Message);
                    await Task.Delay(Fence.WaitAfter(faults), clock, stop.Token).ContinueWith(_ => { }, TaskScheduler.Default);
                }
            }
        },
        CancellationToken.None);

    private void WarnWithoutUsers()
    {
        if (settings.Broker.Own && BrokerParts.Own(settings.Broker, data).Listeners.Any(listener => listener.DemandsPassword)
            && !File.Exists(data.BrokerUsers))
        {
            Log.BrokerWithoutUsers(logger);
        }
    }
}
