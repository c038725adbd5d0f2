using Microsoft.Extensions.DependencyInjection.Extensions;
using NodaTime;

namespace Chamber.Service.Health;

/// <summary>
/// Stands around a worker: a fault in it stays there. The worker is started again, after a wait that doubles from a second to five minutes,
/// while the others go on; without a fence the host would stop the whole service. A worker that has run for a minute is taken as well
/// again.
/// </summary>
/// <param name="name">What health and page call the worker.</param>
/// <param name="worker">The worker.</param>
/// <param name="broken">Where it is said that it is down.</param>
/// <param name="clock">For the waits.</param>
/// <param name="logger">For the operator.</param>
internal sealed class Fence(string name, BackgroundService worker, BrokenParts broken, TimeProvider clock, ILogger<Fence> logger)
    : IHostedService, IDisposable
{
    private static readonly TimeSpan FirstWait = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan LongestWait = TimeSpan.FromMinutes(5);
    private static readonly TimeSpan WellAfter = TimeSpan.FromMinutes(1);

    private readonly CancellationTokenSource stop = new();
    private Task guarding = Task.CompletedTask;

    public Fence(BackgroundService worker, BrokenParts broken, TimeProvider clock, ILogger<Fence> logger)
        : this(worker.GetType().Name, worker, broken, clock, logger)
    {
    }

    /// <summary>What health and page call the worker.</summary>
    public string Name => name;

    /// <summary>What is run; before the start a test may put something else in its way.</summary>
    internal BackgroundService Worker { get; set; } = worker;

    public async Task StartAsync(CancellationToken cancellationToken)
    {
        await Worker.StartAsync(cancellationToken);
        guarding = Guard();
    }

    public async Task StopAsync(CancellationToken cancellationToken)
    {
        await stop.CancelAsync();
        await guarding;
        await Worker.StopAsync(cancellationToken);
    }

    public void Dispose() => stop.Dispose();

    /// <summary>How long to wait before a worker is started again that has faulted so many times in a row.</summary>
    internal static TimeSpan WaitAfter(int faults) =>
        TimeSpan.FromTicks(Math.Min(LongestWait.Ticks, FirstWait.Ticks << Math.Clamp(faults - 1, 0, 20)));

    private async Task Guard()
    {
        var faults = 0;
        while (!stop.IsCancellationRequested)
        {
            var running = Worker.ExecuteTask ?? Task.CompletedTask;
            if (faults > 0 && !await Ends(running, WellAfter))
            {
                broken.Works(name);
                faults = 0;
            }

            await Ends(running, Timeout.InfiniteTimeSpan);
            if (running.IsCompletedSuccessfully || stop.IsCancellationRequested)
            {
                // It has done all there is to do, or everything stops.
                broken.Works(name);
                return;
            }

            // Its own wait that ran out, as that of a request does, ends a worker as any fault does.
            var problem = running.Exception?.GetBaseException() ?? new TimeoutException("It waited for something in vain.");
            faults++;
            broken.Broke(name, Instant.FromDateTimeOffset(clock.GetUtcNow()), problem.Message);
            Log.WorkerFaulted(logger, problem, name, (int)WaitAfter(faults).TotalSeconds, problem.Message);
            await Ends(Task.Delay(WaitAfter(faults), clock, stop.Token), Timeout.InfiniteTimeSpan);
            if (!stop.IsCancellationRequested)
            {
                await StartAgain();
            }
        }
    }

    private async Task StartAgain()
    {
        try
        {
            await Worker.StartAsync(stop.Token);
        }
#pragma warning disable CA1031 // Whatever it is: it shows in the worker's task, which is looked at next.
        catch (Exception)
#pragma warning restore CA1031
        {
            // A worker that faults before its first wait throws here as well.
        }
    }

    // Waits for an end of whatever kind; false when patience is over first.
    private async Task<bool> Ends(Task task, TimeSpan patience)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(stop.Token);
        var over = Task.Delay(patience, clock, limit.Token);
        var first = await Task.WhenAny(task, over);
        await limit.CancelAsync();
        return first == task || stop.IsCancellationRequested;
    }
}

/// <summary>Registers workers behind fences.</summary>
internal static class FencedWorkers
{
    /// <summary>Runs a worker that is registered, or made here, behind its own fence.</summary>
    public static void AddFenced<T>(this IServiceCollection services, Func<IServiceProvider, T> worker)
        where T : BackgroundService
    {
        services.TryAddSingleton<BrokenParts>();
        services.AddSingleton<IHostedService>(provider => new Fence(
            worker(provider),
            provider.GetRequiredService<BrokenParts>(),
            provider.GetRequiredService<TimeProvider>(),
            provider.GetRequiredService<ILogger<Fence>>()));
    }

    /// <inheritdoc cref="AddFenced{T}(IServiceCollection, Func{IServiceProvider, T})"/>
    public static void AddFenced<T>(this IServiceCollection services)
        where T : BackgroundService => services.AddFenced(provider => ActivatorUtilities.CreateInstance<T>(provider));
}
