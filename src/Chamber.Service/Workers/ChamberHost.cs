using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Chamber.Mqtt.Broker;
using Chamber.Mqtt.Intake;
using Chamber.Service.Access;
using Chamber.Service.Configuration;
using Chamber.Service.Health;
using Chamber.Service.Home;
using Chamber.Service.Home.Watching;
using Chamber.Service.Home.Writing;
using Chamber.Service.Notify;
using Chamber.Service.Photos;
using Chamber.Service.Telemetry;
using Chamber.Service.Web;
using Chamber.Storage;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.Extensions.Hosting.Systemd;
using NodaTime;
using Serilog;

namespace Chamber.Service.Workers;

/// <summary>Puts the running service together: store, intake, broker, watch, retention and page.</summary>
internal static class ChamberHost
{
    /// <exception cref="StoreException">The database cannot be used.</exception>
    /// <param name="settings">The settings in force.</param>
    /// <param name="data">Where everything is kept.</param>
    /// <param name="machine">The machine's clock, or a demo's.</param>
    /// <param name="json">Whether the console speaks JSON.</param>
    /// <param name="variable">Reads the environment, by which a service manager makes itself known; null when there is none.</param>
    /// <param name="environment">What overrides chamber.json; null for nothing.</param>
    /// <param name="troubles">Files that could not be used until now; null for none.</param>
    public static WebApplication Build(
        Settings settings, DataDirectory data, TimeProvider machine, bool json, Func<string, string?>? variable = null,
            IEnumerable<KeyValuePair<string, string>>? environment = null, FileTroubles? troubles = null)
    {
        troubles ??= new();
        variable ??= _ => null;
        var clock = new HomeClock(machine, settings.Zone);
        data.Make();
        Safekeeping.RestoreIfAsked(data, troubles.Add);
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions
        {
            ApplicationName = typeof(ChamberHost).Assembly.GetName().Name,
            ContentRootPath = AppContext.BaseDirectory,
        });
        builder.Configuration.Sources.Clear();
        builder.Services.AddSerilog(ServiceLog.Make(data, json, variable), dispose: true);
        builder.Services.AddSingleton(new ServiceManager(new SystemdNotifier(), variable));
        builder.Services.Configure<HostOptions>(options => options.ShutdownTimeout = TimeSpan.FromSeconds(4));
        var inForce = new SettingsInForce(settings, data, [.. environment ?? []]);
        builder.Services.AddSingleton(troubles);
        AddParts(builder.Services, settings, data, clock, inForce);
        builder.Services.AddTelemetry(settings, provider => provider.GetRequiredService<ServiceHealth>().IsReady);
        if (settings.Page.On)
        {
            builder.WebHost.ConfigureKestrel(kestrel => Listen(kestrel, settings.Page, inForce, data,
                new(() => Certificate(settings.Page, data, clock, troubles))));
            builder.WebHost.UseStaticWebAssets();
            builder.Services.AddPage(data.PageAccess, data.PageKeys);
        }
        else
        {
            builder.Services.AddSingleton<IServer, NoWebServer>();
        }

        var app = builder.Build();
        if (settings.Page.On)
        {
            app.UsePage(settings.Page.BehindProxy);
            app.UseHealth();
        }

        // A guest sees the home, not how it is run.
        app.UseTelemetry(settings, data, user => user.IsInRole(AccessModule.Change));

        return app;
    }

    private static void AddParts(IServiceCollection services, Settings settings, DataDirectory data, HomeClock clock,
        SettingsInForce notices)
    {
        services.AddSingleton(settings);
        services.AddSingleton(data);
        services.AddSingleton(clock);
        services.AddSingleton<TimeProvider>(clock);
        services.AddSingleton(_ =>
        {
            var store = ChamberStore.Open(data.Database);
            clock.KnowPast(ServicePulse.Last(store.Ledger) ?? Instant.MinValue);
            return store;
        });
        services.AddSingleton<HomeContext>();
        services.AddSingleton<WatchInbox>();
        services.AddSingleton(provider => new ProbeUnits(() => provider.GetRequiredService<ChamberStore>().Facts.Home().Settings));
        services.AddSingleton<HomeChanges>();
        services.AddSingleton<ForeignChanges>(provider => _ => new(provider.GetRequiredService<ChamberStore>().DataVersion));
        services.AddSingleton<Intake>();
        services.AddSingleton(provider => provider.GetRequiredService<Intake>().Readings.Metrics);
        services.AddSingleton<BrokerWorker>();
        services.AddSingleton<Func<BrokerMetrics?>>(provider => () => provider.GetRequiredService<BrokerWorker>().Refusals);
        services.AddSingleton<Func<BrokerState>>(provider => () => provider.GetRequiredService<BrokerWorker>().State);
        services.AddSingleton(provider => new CopiesHealth(
            () => provider.GetService<MirrorWorker>()?.Health(), () => provider.GetService<ForwardWorker>()?.Health()));
        services.AddSingleton<RetainedAlerts>();
        AddWatchParts(services);
        services.AddSingleton(_ => new WatchPulse(TimeProvider.System));
        services.AddSingleton<BrokenParts>();
        services.AddSingleton<ServiceHealth>();
        services.AddSingleton<PageTrouble>(provider => () => provider.GetRequiredService<ServiceHealth>().Trouble);
        services.AddSingleton<WatchFacts>();
        services.AddNotices(settings, data, notices);
        services.AddSingleton<AlertDesk>();

        // The first to start is the last to stop: the writer outlives those that hand it work.
        services.AddHostedService(provider => provider.GetRequiredService<BrokerWorker>());
        services.AddFenced(provider => provider.GetRequiredService<RetainedAlerts>());
        services.AddFenced(provider => provider.GetRequiredService<NoticeWorker>());
        services.AddFenced<DigestWorker>();
        services.AddFenced<HubWorker>();
        services.AddFenced<BrokerAnnouncer>();
        services.AddFenced(provider => ActivatorUtilities.CreateInstance<TroubleWorker>(provider,
            () => provider.GetRequiredService<ServiceHealth>().OfHome));
        services.AddFenced<WatchWorker>();
        services.AddSingleton<PhotoFiles>();
        services.AddSingleton<PhotoShelf>(provider => provider.GetRequiredService<PhotoFiles>());
        services.AddFenced<RetentionWorker>();
        services.AddFenced<WatchdogWorker>();
        services.AddFenced(_ => MemoryAtRest.OfProcess());
        AddCopies(services, settings);
        services.AddFenced<BackupWorker>();
        services.AddFenced<SettingsFollower>();
    }

    private static void AddCopies(IServiceCollection services, Settings settings)
    {
        if (settings.Mirror is not null)
        {
            services.AddSingleton<MirrorWorker>();
            services.AddFenced(provider => provider.GetRequiredService<MirrorWorker>());
        }

        if (settings.Club is not null)
        {
            services.AddSingleton<ForwardWorker>();
            services.AddFenced(provider => provider.GetRequiredService<ForwardWorker>());
        }
    }

    private static void AddWatchParts(IServiceCollection services)
    {
        services.AddSingleton(provider => new Outages(
            provider.GetRequiredService<ChamberStore>(),
            () => provider.GetRequiredService<BrokerWorker>().State.IsConnected,
            () => provider.GetRequiredService<IntakeMetrics>().LastFailure is null,
            provider.GetRequiredService<ClockTeller>().Pass));
        services.AddSingleton(provider => new AbsenceTeller(
            provider.GetRequiredService<ChamberStore>(),
            () => provider.GetRequiredService<HomeContext>().Read(),
            provider.GetRequiredService<NoticeDesk>().Put,
            provider.GetRequiredService<NoticeComposer>(),
            provider.GetRequiredService<ILogger<AbsenceTeller>>()));
        services.AddSingleton<ClockTeller>();
    }

    private static void Listen(Microsoft.AspNetCore.Server.Kestrel.Core.KestrelServerOptions kestrel, PageSettings page,
        SettingsInForce inForce, DataDirectory data, Lazy<X509Certificate2> certificate)
    {
        kestrel.AddServerHeader = false;
        kestrel.Limits.MaxRequestBodySize = (long)Core.Bounds.RequestBody.High;
        kestrel.Limits.MaxConcurrentConnections = (long)Core.Bounds.PageConnections.High;
        kestrel.Limits.MaxConcurrentUpgradedConnections = (long)Core.Bounds.PageConnections.High;
        kestrel.Limits.RequestHeadersTimeout = TimeSpan.FromSeconds(15);
        kestrel.Listen(IPAddress.Parse(page.Address), page.Port, listen =>
        {
            if (!PageAddress.IsPlain(page))
            {
                listen.UseHttps(certificate.Value);
            }
        });
        OpenToTheHome(kestrel, inForce, certificate);
    }

    private static void OpenToTheHome(Microsoft.AspNetCore.Server.Kestrel.Core.KestrelServerOptions kestrel, SettingsInForce inForce,
        Lazy<X509Certificate2> certificate)
    {
        var door = new PageDoor();
        door.Use(inForce.HomeNetwork);
        inForce.Changed += () => door.Use(inForce.HomeNetwork);
        kestrel.Configure(new ConfigurationBuilder().Add(door).Build(), reloadOnChange: true)
            .Endpoint(PageDoor.Endpoint, endpoint => endpoint.ListenOptions.UseHttps(certificate.Value));
    }

    private static X509Certificate2 Certificate(PageSettings page, DataDirectory data, TimeProvider clock, FileTroubles troubles)
    {
        if (page.Certificate is { } file)
        {
            try
            {
                return X509Certificate2.CreateFromPemFile(data.Resolve(file), data.Resolve(page.Key!));
            }
            catch (Exception problem) when (problem is CryptographicException or IOException or UnauthorizedAccessException)
            {
                troubles.Add($"{data.Resolve(file)} with its key cannot be used ({problem.Message.TrimEnd('.')}), so the page has a "
                    + "certificate that Chamber made, and browsers warn. Put the certificate there again, and restart.");
            }
        }

        return SelfMadeCertificate.LoadOrCreate(data.PageCertificate, clock);
    }
}
