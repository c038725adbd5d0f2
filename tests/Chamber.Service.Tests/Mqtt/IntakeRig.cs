using Chamber.Core.Climate;
using Chamber.Mqtt.Broker;
using Chamber.Mqtt.Connection;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Intake;
using Chamber.Mqtt.Listening;
using Chamber.Testing;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>An intake that commits into lists, and what a test starts around it. Tests wait for what was committed, never for time to
/// pass.</summary>
internal sealed class IntakeRig : IAsyncDisposable
{
    private readonly Lock gate = new();
    private readonly CancellationTokenSource stop = new();
    private readonly List<Task> running = [];
    private readonly List<IAsyncDisposable> owned = [];
    private readonly List<Reading> readings = [];
    private readonly List<Reading> lastKnown = [];
    private readonly List<Refusal> refusals = [];
    private readonly List<(Func<bool> Condition, TaskCompletionSource Met)> waits = [];

    public IntakeRig(TopicMap? map = null, IntakeOptions? options = null, DecoderOptions? decoder = null)
    {
        Map = map ?? TopicMap.Default;
        Intake = new(new(Map, decoder), CommitAsync, TimeProvider.System, Log.For<ReadingIntake>(), options);
        running.Add(Intake.RunAsync(stop.Token));
    }

    public CollectedLog Log { get; } = new();

    public TopicMap Map { get; }

    public ReadingIntake Intake { get; }

    /// <summary>Runs before each commit; may wait or throw.</summary>
    public Func<DecodedBatch, Task>? BeforeCommit { get; set; }

    public IReadOnlyList<Reading> Readings => Copy(readings);

    public IReadOnlyList<Reading> LastKnown => Copy(lastKnown);

    public IReadOnlyList<Refusal> Refusals => Copy(refusals);

    /// <summary>The temperatures committed so far: tests number their readings by them.</summary>
    public IReadOnlyList<double> Temperatures =>
        [.. Readings.Where(reading => reading.Temperature is not null)
        .Select(reading => Math.Round(reading.Temperature!.Value.Celsius, 3))];

    /// <summary>Waits until the condition holds after some commit.</summary>
    public Task Until(Func<bool> condition)
    {
        var met = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        lock (gate)
        {
            if (condition())
            {
                return Task.CompletedTask;
            }

            waits.Add((condition, met));
        }

        return Wait.For("the number of readings", met.Task);
    }

    /// <summary>Starts a subscriber; it is subscribed when this returns.</summary>
    public async Task<Subscriber> Join(BrokerAddress address)
    {
        var subscriber = Subscriber(address);
        var connected = Connection(subscriber);
        Run(subscriber);
        await connected;
        return subscriber;
    }

    public Subscriber Subscriber(BrokerAddress address) =>
        new(address, Map, Intake, TimeProvider.System, new Random(1), Log.For<Subscriber>());

    public void Run(Subscriber subscriber) => running.Add(subscriber.RunAsync(stop.Token));

    public void Run(UnmappedEar ear) => running.Add(ear.RunAsync(stop.Token));

    /// <summary>The next connection of a subscriber.</summary>
    public static Task Connection(Subscriber subscriber)
    {
        var connected = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        subscriber.Connected += (_, _) => connected.TrySetResult();
        return Wait.For("a connection", connected.Task);
    }

    /// <summary>Starts a built-in broker on a free port, with its files in the folder.</summary>
    public async Task<BuiltInBroker> StartBroker(ListenerOptions listener, TempFolder folder, BrokerOptions? bounds = null)
    {
        var broker = new BuiltInBroker(
            (bounds ?? new()) with { Listeners = [listener] }, Map, Intake, new(folder.File("users")), folder.File("retained.json"),
                Log.For<BuiltInBroker>());
        owned.Add(broker);
        await broker.StartAsync();
        return broker;
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var one in owned)
        {
            await one.DisposeAsync();
        }

        await stop.CancelAsync();
        await Task.WhenAll(running);
        stop.Dispose();
        Log.Dispose();
    }

    private async ValueTask CommitAsync(DecodedBatch batch, CancellationToken cancellationToken)
    {
        if (BeforeCommit is { } before)
        {
            await before(batch);
        }

        lock (gate)
        {
            readings.AddRange(batch.Readings);
            lastKnown.AddRange(batch.LastKnown);
            refusals.AddRange(batch.Refusals);
            foreach (var (_, met) in waits.Where(wait => wait.Condition()))
            {
                met.TrySetResult();
            }
        }
    }

    private List<T> Copy<T>(List<T> list)
    {
        lock (gate)
        {
            return [.. list];
        }
    }
}
