using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Hub;

namespace Chamber.Service.Workers;

/// <summary>
/// Announces the home to a home-automation hub while that is switched on, and clears what it announced when it no longer is. Which topics
/// those are is kept in a file, so that a spot that went while the service was down does not stay at the hub for good.
/// </summary>
internal sealed class HubWorker(HomeContext context, SettingsInForce inForce, BrokerWorker broker, TimeProvider clock,
    ILogger<HubWorker> logger) : Worker
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(30);

    private readonly SemaphoreSlim wake = new(0, 1);
    private readonly Dictionary<string, byte[]> sent = [];
    private volatile bool again;

    public override void Dispose()
    {
        wake.Dispose();
        base.Dispose();
    }

    protected override async Task WorkAsync(CancellationToken stop)
    {
        broker.Publisher.Connected += (_, _) =>
        {
            again = true;
            Wake();
        };
        inForce.Changed += Wake;
        while (true)
        {
            try
            {
                await Pass(stop);
            }
            catch (Exception problem) when (problem is StoreException or BadInputException or IOException
                or UnauthorizedAccessException)
            {
                Log.HubTrouble(logger, problem.Message);
            }

            using var pause = CancellationTokenSource.CreateLinkedTokenSource(stop);
            await Task.WhenAny(wake.WaitAsync(pause.Token), Task.Delay(Every, clock, pause.Token));
            await pause.CancelAsync();
            stop.ThrowIfCancellationRequested();
        }
    }

    private async Task Pass(CancellationToken stop)
    {
        var file = context.Data.HubTopics;
        var before = File.Exists(file) ? await File.ReadAllLinesAsync(file, stop) : [];
        if (inForce.Hub is null && before.Length == 0)
        {
            return;
        }

        if (again)
        {
            again = false;
            sent.Clear();
        }

        var wanted = inForce.Hub is { } hub
            ? new HubMessages(context.Read(TemperatureScale.Celsius), hub.Prefix, HubDevice.Safe(context.Settings.Broker.ClientId)).All()
            : new Dictionary<string, byte[]>();
        Keep(file, before, [.. before.Union(wanted.Keys).Order(StringComparer.Ordinal)]);
        foreach (var topic in before.Except(wanted.Keys))
        {
            sent.Remove(topic);
            if (!await broker.Publisher.PublishAsync(topic, Array.Empty<byte>(), retain: true, stop))
            {
                return;
            }
        }

        Keep(file, [.. before.Union(wanted.Keys).Order(StringComparer.Ordinal)], [.. wanted.Keys.Order(StringComparer.Ordinal)]);

        // States before what describes them, so that a hub has a value as soon as it shows a thing.
        foreach (var (topic, payload) in wanted.OrderByDescending(pair => pair.Key.StartsWith("chamber/", StringComparison.Ordinal)))
        {
            if (sent.TryGetValue(topic, out var last) && last.AsSpan().SequenceEqual(payload))
            {
                continue;
            }

            if (!await broker.Publisher.PublishAsync(topic, payload, retain: true, stop))
            {
                // Connected comes again when there is a connection.
                return;
            }

            sent[topic] = payload;
        }
    }

    private static void Keep(string file, IReadOnlyCollection<string> before, IReadOnlyCollection<string> topics)
    {
        if (topics.Count == 0)
        {
            File.Delete(file);
        }
        else if (!topics.SequenceEqual(before))
        {
            WholeFile.Write(file, string.Join('\n', topics) + "\n", ownerOnly: false);
        }
    }

    private void Wake()
    {
        try
        {
            wake.Release();
        }
        catch (Exception full) when (full is SemaphoreFullException or ObjectDisposedException)
        {
            // It wakes anyway, or never again.
        }
    }
}
