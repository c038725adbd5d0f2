using Chamber.Service.Demo;
using Chamber.Service.Health;
using Chamber.Service.Workers;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using MQTTnet;
using MQTTnet.Protocol;

namespace Chamber.Service.Tests.Faults;

/// <summary>
/// Each fenced worker of the real service fails by each kind of fault in turn, all of them at the same time, on a clock sixty times as
/// fast: readings are stored and acknowledged, health answers and names each worker, and once they may all work again danger is told. That
/// one leaves the others alone is shown by <see cref="WorkerFaultTests"/>.
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class EveryWorkerFaultTests : IDisposable
{
    private const double Speed = 60;

    private static readonly Func<Exception>[] Faults =
    [
        () => new InvalidOperationException("out of paper"), () => new AggregateException(new InvalidOperationException("out of paper")),
        () => new TaskCanceledException(), () => new InsufficientMemoryException("no memory left"),
        () => new IOException("the disk is gone"),
    ];

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task Every_worker_survives_each_fault_and_readings_go_on()
    {
        var (broker, page) = (FreePort.Next(), FreePort.Next());
        await using var service = ChamberHost.Build(
            new()
            {
                Broker = new() { Listen = [new() { Port = broker }] }, Page = new() { Port = page },
                Mirror = new() { Url = "http://127.0.0.1:1" }, Club = new() { Host = "127.0.0.1", Port = 1, Home = "flat" },
            },
            new(folder.Path), new DemoClock(TimeProvider.System, Speed), json: true);
        var fences = service.Services.GetServices<IHostedService>().OfType<Fence>().ToList();
        var failing = fences.ConvertAll(fence => new Failing(fence.Worker));
        for (var i = 0; i < fences.Count; i++)
        {
            fences[i].Worker = failing[i];
        }

        await service.StartAsync(TestContext.Current.CancellationToken);
        var broken = service.Services.GetRequiredService<BrokenParts>();
        using var http = new HttpClient { BaseAddress = new($"http://127.0.0.1:{page}") };
        using var sensor = new MqttClientFactory().CreateMqttClient();
        await sensor.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", broker).Build(),
            TestContext.Current.CancellationToken);
        var acknowledged = 0;
        await Wait.Until("every worker to have failed in each way, and to be named while it is down", async () =>
        {
            await sensor.PublishStringAsync("chamber/mat/reading", """{"temperature": 55}""", MqttQualityOfServiceLevel.AtLeastOnce,
                cancellationToken: TestContext.Current.CancellationToken);
            acknowledged++;
            using var answer = await http.GetAsync(new Uri("/health", UriKind.Relative), TestContext.Current.CancellationToken);
            var health = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
            return failing.TrueForAll(worker => worker.Starts >= Faults.Length)
                && fences.TrueForAll(fence => health.Contains(fence.Name, StringComparison.Ordinal)) ? health : null;
        });
        failing.ForEach(worker => worker.MayWork());
        await Wait.Until("every worker to work again", () => broken.Now.Count == 0);

        var store = service.Services.GetRequiredService<ChamberStore>();
        Assert.Equal(acknowledged, store.Journal.Read(new("mat"), new(null, null)).Count());
        await Wait.Until("the danger to be told", () => store.Ledger.Alerts.Open().Count > 0);
        await service.StopAsync(TestContext.Current.CancellationToken);
        await service.DisposeAsync();

        var log = string.Concat(Directory.GetFiles(folder.File("logs")).Select(File.ReadAllText));
        Assert.Equal([], from fence in fences
            from problem in (string[])["out of paper", "It waited for something in vain.", "no memory left", "the disk is gone"]
            where !log.Split('\n').Any(line => line.Contains(fence.Name, StringComparison.Ordinal)
                && line.Contains(problem, StringComparison.Ordinal))
            select $"{fence.Name}: {problem}");
    }

    /// <summary>Fails at its starts, in each way and then in the last, until it may be the worker.</summary>
    private sealed class Failing(BackgroundService worker) : BackgroundService
    {
        private int starts;
        private volatile bool mayWork;

        public int Starts => Volatile.Read(ref starts);

        public void MayWork() => mayWork = true;

        protected override async Task ExecuteAsync(CancellationToken stoppingToken)
        {
            if (!mayWork)
            {
                throw Faults[Math.Min(Interlocked.Increment(ref starts), Faults.Length) - 1]();
            }

            await worker.StartAsync(stoppingToken);
            await worker.ExecuteTask!.WaitAsync(stoppingToken);
        }
    }
}
