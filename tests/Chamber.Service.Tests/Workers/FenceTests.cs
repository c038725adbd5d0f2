using Chamber.Service.Health;
using Chamber.Testing;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Time.Testing;

namespace Chamber.Service.Tests.Workers;

/// <summary>Seconds are the program's own, kept to notice change.</summary>
public sealed class FenceTests : IDisposable
{
    private readonly FakeTimeProvider clock = new(new(2027, 3, 1, 8, 0, 0, TimeSpan.Zero));
    private readonly BrokenParts broken = new();
    private readonly CollectedLog log = new CollectedLog().Expect("WorkerFaulted");

    public void Dispose() => log.Dispose();

    [Fact]
    public async Task A_worker_that_faults_is_told_of_and_started_again()
    {
        using var worker = new Faulty(faults: 2);
        using var fence = new Fence(worker, broken, clock, log.For<Fence>());
        await fence.StartAsync(TestContext.Current.CancellationToken);

        await Wait.For("the first start", worker.Started(1));
        await Down();
        Assert.Equal((nameof(Faulty), "out of paper"), broken.Now.Select(part => (part.Part, part.Problem)).Single());
        await PassUntil(worker.Started(2), TimeSpan.FromSeconds(1));
        await PassUntil(worker.Started(3), TimeSpan.FromSeconds(2));
        await PassUntil(Up(), TimeSpan.FromMinutes(1));

        await fence.StopAsync(TestContext.Current.CancellationToken);
        Assert.True(worker.HasStopped);
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(3, 4)]
    [InlineData(9, 256)]
    [InlineData(10, 300)]
    [InlineData(1000, 300)]
    public void Waits_double_up_to_five_minutes(int faults, int seconds) => Assert.Equal(seconds, Fence.WaitAfter(faults).TotalSeconds);

    private Task Down() => Wait.Until("the worker to be called broken", () => broken.Now.Count > 0);

    private Task Up() => Wait.Until("the worker to be called well", () => broken.Now.Count == 0);

    // Time passes in steps until what is awaited has come: a wait that has not begun yet is not missed.
    private async Task PassUntil(Task awaited, TimeSpan step)
    {
        await Wait.Until("what comes with time", () =>
        {
            clock.Advance(awaited.IsCompleted ? TimeSpan.Zero : step);
            return awaited.IsCompleted;
        });
        await awaited;
    }

    private sealed class Faulty(int faults) : BackgroundService
    {
        private readonly SemaphoreSlim starts = new(0);
        private int count;

        public bool HasStopped { get; private set; }

        public Task Started(int _) => starts.WaitAsync();

        public override void Dispose()
        {
            starts.Dispose();
            base.Dispose();
        }

        protected override async Task ExecuteAsync(CancellationToken stoppingToken)
        {
            starts.Release();
            if (++count <= faults)
            {
                throw new InvalidOperationException("out of paper");
            }

            try
            {
                await new TaskCompletionSource().Task.WaitAsync(stoppingToken);
            }
            finally
            {
                HasStopped = true;
            }
        }
    }
}
