using System.Globalization;
using System.Text.RegularExpressions;
using Chamber.Service.Configuration;
using Chamber.Service.Health;
using Chamber.Service.Web;
using Chamber.Service.Workers;
using Chamber.Testing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Time.Testing;

namespace Chamber.Service.Tests.Faults;

/// <summary>Every way in which a worker may end, behind its fence and beside another worker, by tests/cases/faults/workers.csv.</summary>
public sealed class WorkerFaultTests : IDisposable
{
    private readonly FakeTimeProvider clock = new(new(2027, 3, 1, 8, 0, 0, TimeSpan.Zero));
    private readonly BrokenParts broken = new();
    private readonly CollectedLog log = new CollectedLog().Expect("WorkerFaulted");
    private readonly TempFolder folder = new();

    public static TheoryData<string, string, string> Cases =>
        [.. FaultCases.Of("workers.csv").Select(line => (line[0], line[1], line[2]))];

    public void Dispose()
    {
        log.Dispose();
        folder.Dispose();
    }

    // The broker's worker is the ground of all others, and fences its parts: the intake, and the connection to another broker.
    [Fact]
    public async Task Every_worker_stands_behind_a_fence()
    {
        var settings = new Settings
        {
            Mirror = new() { Url = "http://127.0.0.1:1" }, Club = new() { Host = "127.0.0.1", Port = 1, Home = "flat" },
            Page = new() { On = false },
        };
        await using var host = ChamberHost.Build(settings, new(folder.Path), TimeProvider.System, json: true);
        var hosted = host.Services.GetServices<IHostedService>().ToList();
        var workers = typeof(ChamberHost).Assembly.GetTypes()
            .Where(type => type.IsSubclassOf(typeof(BackgroundService)) && !type.IsAbstract && !type.IsNested)
            .ToLookup(type => type.Namespace!.StartsWith("Chamber.Service.Web", StringComparison.Ordinal), type => type.Name);

        Assert.Equal(workers[false].Order(), hosted.OfType<Fence>().Select(fence => fence.Name).Order());
        Assert.Empty(hosted.OfType<BackgroundService>());

        var ofPage = new ServiceCollection();
        ofPage.AddPage(folder.File("access"), folder.File("keys"));
        Assert.Equal(workers[true].Count(), ofPage.Count(IsFenced));
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public async Task A_worker_that_fails_is_told_of_and_the_others_go_on(string fault, string told, string then)
    {
        using var failing = new Failing(fault, clock);
        using var steady = new Failing("never", clock);
        using var fence = new Fence(failing, broken, clock, log.For<Fence>());
        using var other = new Fence("other", steady, broken, clock, log.For<Fence>());
        await fence.StartAsync(TestContext.Current.CancellationToken);
        await other.StartAsync(TestContext.Current.CancellationToken);

        if (told.Length > 0)
        {
            await Until("the fault to be told", () => broken.Now.Count > 0);
            Assert.Equal((nameof(Failing), told), broken.Now.Select(part => (part.Part, part.Problem)).Single());
        }

        switch (then)
        {
            case "starts again":
                await Until("another start", () => failing.Starts > 1);
                await Until("all to be well", () => broken.Now.Count == 0);
                break;
            case "waits longer each time":
                await Until("some starts", () => failing.Starts > 4);
                Assert.NotEmpty(broken.Now);
                Assert.Equal([1, 2, 4, 8], log.Lines.Where(line => line.Event.Name == "WorkerFaulted").Take(4).Select(WaitOf));
                break;
            default:
                await Until("its end", () => failing.ExecuteTask is { IsCompleted: true });
                Assert.Equal((1, 0), (failing.Starts, broken.Now.Count));
                break;
        }

        Assert.Equal((1, false), (steady.Starts, steady.ExecuteTask!.IsCompleted));
        await other.StopAsync(TestContext.Current.CancellationToken);
        await fence.StopAsync(TestContext.Current.CancellationToken);
    }

    private static int WaitOf(LogLine line) =>
        int.Parse(Regex.Match(line.Message, @"(\d+) s;").Groups[1].Value, CultureInfo.InvariantCulture);

    private static bool IsFenced(ServiceDescriptor service) =>
        service.ServiceType == typeof(IHostedService)
        && service.ImplementationFactory?.Method.DeclaringType?.DeclaringType == typeof(FencedWorkers);

    private Task Until(string what, Func<bool> isSo) => Wait.Until(what, () =>
    {
        if (!isSo())
        {
            clock.Advance(TimeSpan.FromSeconds(1));
        }

        return isSo();
    });

    private sealed class Failing(string fault, TimeProvider clock) : BackgroundService
    {
        private int starts;

        public int Starts => Volatile.Read(ref starts);

        protected override async Task ExecuteAsync(CancellationToken stoppingToken)
        {
            var isFirst = Interlocked.Increment(ref starts) == 1;
            if (isFirst || fault == "throws at every start")
            {
                await Fail(stoppingToken);
            }

            if (fault != "ends by itself")
            {
                await new TaskCompletionSource().Task.WaitAsync(stoppingToken);
            }
        }

        private async Task Fail(CancellationToken stop)
        {
            switch (fault)
            {
                case "throws at once" or "throws at every start":
                    throw new InvalidOperationException("out of paper");
                case "throws after a while":
                    await Assert.ThrowsAsync<TimeoutException>(
                        () => new TaskCompletionSource().Task.WaitAsync(TimeSpan.FromSeconds(3), clock, stop));
                    throw new InvalidOperationException("out of paper");
                case "throws several at once":
                    throw new AggregateException(new InvalidOperationException("out of paper"));
                case "is left waiting":
                    throw new TaskCanceledException();
                case "runs out of memory":
                    throw new InsufficientMemoryException("no memory left");
                default:
                    Assert.True(fault is "never" or "ends by itself", fault);
                    break;
            }
        }
    }
}
