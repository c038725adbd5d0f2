using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Chamber.Mqtt;
using Chamber.Mqtt.Broker;
using Chamber.Mqtt.Connection;
using Chamber.Mqtt.Listening;
using Chamber.Service.Access;
using Chamber.Service.Configuration;
using Chamber.Service.Health;

namespace Chamber.Service.Workers;

/// <summary>Runs the intake, and the own broker or the connection to the one that is there. Ready when it has started.</summary>
internal sealed class BrokerWorker : IHostedService, IAsyncDisposable
{
    private readonly Settings settings;
    private readonly SettingsInForce inForce;
    private readonly DataDirectory data;
    private readonly Intake intake;
    private readonly ILogger<BrokerWorker> logger;
    private readonly BuiltInBroker? own;
    private readonly Subscriber? joined;
    private readonly List<Fence> fences = [];

    public BrokerWorker(Settings settings, SettingsInForce inForce, DataDirectory data, Intake intake, BrokenParts broken,
        FileTroubles troubles, TimeProvider clock, ILoggerFactory loggers)
    {
        this.settings = settings;
        this.inForce = inForce;
        this.data = data;
        this.intake = intake;
        logger = loggers.CreateLogger<BrokerWorker>();
        if (settings.Broker.Own)
        {
            var parts = BrokerParts.Own(settings.Broker, data, settings.Limits.PayloadBytes);
            var usable = parts.Listeners.Where(listener => HasItsCertificate(listener, troubles)).ToList();
            own = new(parts with { Listeners = usable }, intake.Map, intake.Readings,
                new(data.BrokerUsers), data.BrokerRetained, loggers.CreateLogger<BuiltInBroker>());
        }
        else
        {
            // Waits between tries only have to differ from those of other clients.
            var jitter = new Random(Environment.ProcessId);
            joined = new(BrokerParts.Joined(settings.Broker, data), intake.Map, intake.Readings, clock, jitter,
                loggers.CreateLogger<Subscriber>());
        }

        // Without a fence a fault in here would be heard of only at the end, with no reading taken in until then.
        Fenced("intake", intake.Readings.RunAsync);
        if (joined is not null)
        {
            Fenced("broker connection", joined.RunAsync);
        }

        if (joined is not null && settings.Broker.TraceUnmapped)
        {
            Fenced("topics without a mapping", new UnmappedEar(BrokerParts.Joined(settings.Broker, data), intake.Map, intake.Readings,
                IsOfHub, clock, loggers.CreateLogger<UnmappedEar>()).RunAsync);
        }

        void Fenced(string part, Func<CancellationToken, Task> run) =>
            fences.Add(new(part, new Part(run), broken, clock, loggers.CreateLogger<Fence>()));
    }

    /// <summary>The way out for messages.</summary>
    public IPublisher Publisher => own is not null ? own : joined!;

    /// <summary>What the own broker refused; null where there is none.</summary>
    public BrokerMetrics? Refusals => own?.Metrics;

    /// <summary>Whether readings can arrive.</summary>
    public BrokerState State => new(joined is null || joined.IsConnected, joined?.Fault);

    public async Task StartAsync(CancellationToken cancellationToken)
    {
        WarnWithoutUsers();
        MakeCertificate();
        if (own is not null)
        {
            await own.StartAsync();
            inForce.Changed += Open;
            await OpenAsync(own);
        }

        await Task.WhenAll(fences.Select(fence => fence.StartAsync(cancellationToken)));
    }

    public async Task StopAsync(CancellationToken cancellationToken)
    {
        await Task.WhenAll(fences.Select(fence => fence.StopAsync(cancellationToken)));
        if (own is not null)
        {
            inForce.Changed -= Open;
            await own.DisposeAsync();
        }
    }

    public ValueTask DisposeAsync()
    {
        fences.ForEach(fence => fence.Dispose());
        return ValueTask.CompletedTask;
    }

    // What a hub is told of this home lies on the broker too.
    private bool IsOfHub(string topic) => File.Exists(data.HubTopics) && File.ReadLines(data.HubTopics).Contains(topic);

    // Without a wait: whoever changes the settings does not hold the broker up.
    private void Open() => _ = OpenAsync(own!);

    private async Task OpenAsync(BuiltInBroker broker)
    {
        try
        {
            await broker.OpenAsync(BrokerParts.OfHome(inForce.HomeNetwork));
        }
        catch (IOException problem)
        {
            Log.HomeNetworkNotOpened(logger, problem.Message);
        }
    }

    private void MakeCertificate()
    {
        if (settings.Broker.Own && settings.Broker.Listen.Any(listener => listener is { Tls: true, Certificate: null }))
        {
            var here = HomeAddresses.All().Concat(settings.Broker.Listen.Select(listener => listener.Address)).Select(IPAddress.Parse);
            SelfMadeCertificate.MakeForBroker(data.BrokerCertificate, data.BrokerKey, here,
                new HomeClock(TimeProvider.System, settings.Zone));
            Log.BrokerCertificate(logger, data.BrokerCertificate);
        }
    }

    // Without it nobody can be let in there; elsewhere everybody can as before. Chamber's own is made again where it is broken.
    private bool HasItsCertificate(ListenerOptions listener, FileTroubles troubles)
    {
        if (listener.CertificateFile is not { } file || file == data.BrokerCertificate)
        {
            return true;
        }

        try
        {
            X509Certificate2.CreateFromPemFile(file, listener.KeyFile).Dispose();
            return true;
        }
        catch (Exception problem) when (problem is CryptographicException or IOException or UnauthorizedAccessException)
        {
            troubles.Add($"{file} with its key cannot be used ({problem.Message.TrimEnd('.')}), so no sensor is let in at "
                + $"{listener.Address}:{listener.Port}. Put the certificate there again, and restart.");
            return false;
        }
    }

    private void WarnWithoutUsers()
    {
        if (settings.Broker.Own && BrokerParts.Own(settings.Broker, data).Listeners.Any(listener => listener.DemandsPassword)
            && !File.Exists(data.BrokerUsers))
        {
            Log.BrokerWithoutUsers(logger);
        }
    }

    private sealed class Part(Func<CancellationToken, Task> run) : Worker
    {
        protected override Task WorkAsync(CancellationToken stop) => run(stop);
    }
}
