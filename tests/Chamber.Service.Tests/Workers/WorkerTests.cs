using Chamber.Testing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

namespace Chamber.Service.Tests.Workers;

/// <summary>On a slow machine the host gives up waiting for a worker that was asked to stop, and takes the store away while it still
/// works.</summary>
public sealed class WorkerTests
{
    [Fact]
    public async Task What_ends_a_worker_that_was_asked_to_stop_is_no_fault()
    {
        using var log = new CollectedLog();
        var worker = new Slow();
        using (var host = Host(worker, log))
        {
            await host.StartAsync(TestContext.Current.CancellationToken);
            await worker.Begun;
            await StopWithoutWaiting(host);
            worker.TakeStoreAway();
            await worker.Ended;
        }

        Assert.DoesNotContain(log.Lines, line => line.Level >= LogLevel.Error);
    }

    [Fact]
    public async Task A_worker_that_throws_while_wanted_is_a_fault_and_ends_the_service()
    {
        using var log = new CollectedLog().Expect("BackgroundServiceFaulted").Expect("BackgroundServiceStoppingHost");
        var worker = new Slow();
        using var host = Host(worker, log);
        await host.StartAsync(TestContext.Current.CancellationToken);
        worker.TakeStoreAway();
        await host.WaitForShutdownAsync(TestContext.Current.CancellationToken);

        Assert.Contains(log.Lines, line => line.Level == LogLevel.Critical);
    }

    [Fact]
    public void Every_worker_of_the_service_is_one_of_these()
    {
        var bare = typeof(Worker).Assembly.GetTypes()
            .Where(type => type.IsSubclassOf(typeof(BackgroundService)) && type != typeof(Worker) && !type.IsSubclassOf(typeof(Worker)));
        Assert.Empty(bare.Select(type => type.Name));
    }

    // The host tells of its patience ending by this exception when it was at an end before the workers were asked to stop.
    private static async Task StopWithoutWaiting(IHost host)
    {
        try
        {
            await host.StopAsync(TestContext.Current.CancellationToken);
        }
        catch (OperationCanceledException) when (!TestContext.Current.CancellationToken.IsCancellationRequested)
        {
        }
    }

    // Nobody waits for it at the stop, as when the time for stopping is over.
    private static IHost Host(Slow worker, CollectedLog log)
    {
        var builder = Microsoft.Extensions.Hosting.Host.CreateEmptyApplicationBuilder(new());
        builder.Logging.AddProvider(log);
        builder.Services.AddSingleton<IHostedService>(worker);
        builder.Services.Configure<HostOptions>(options => options.ShutdownTimeout = TimeSpan.Zero);
        return builder.Build();
    }

    private sealed class Slow : Worker
    {
        private readonly TaskCompletionSource away = new(TaskCreationOptions.RunContinuationsAsynchronously);

        private readonly TaskCompletionSource begun = new(TaskCreationOptions.RunContinuationsAsynchronously);

        /// <summary>One that is asked to stop before it has begun is cancelled, and does nothing that could go wrong.</summary>
        public Task Begun => begun.Task;

        public Task Ended => ExecuteTask!;

        public void TakeStoreAway() => away.SetResult();

        protected override async Task WorkAsync(CancellationToken stop)
        {
            begun.TrySetResult();
            await away.Task;
            throw new ObjectDisposedException("Database");
        }
    }
}
