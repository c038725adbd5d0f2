using Chamber.Service.Access;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Configuration;
using Chamber.Service.Health;
using Chamber.Service.Workers;

namespace Chamber.Service.Commands.Service;

/// <summary>Runs the service until it is told to stop.</summary>
internal static class RunVerb
{
    public static Verb Create() =>
        new Verb("run", "Runs the service until Ctrl-C: takes in readings, watches them, and serves the page.", "chamber run",
            "chamber run --data /var/lib/chamber")
            .Does(async invocation =>
            {
                var troubles = new FileTroubles();
                var settings = SettingsFile.LoadOrLastGood(invocation.Data, invocation.CommandContext.Variables, troubles.Add);
                return await Run(settings, invocation.Data, invocation, invocation.Clock, troubles: troubles);
            });

    /// <summary>Runs a service on a data directory; the demo does the same on a separate one.</summary>
    public static async Task<int> Run(Settings settings, DataDirectory data, Invocation invocation, TimeProvider clock,
        Func<IServiceProvider, CancellationToken, Task>? whenReady = null, FileTroubles? troubles = null,
        IEnumerable<KeyValuePair<string, string>>? variables = null)
    {
        await using var app = ChamberHost.Build(settings, data, clock, invocation.Json, invocation.CommandContext.Variable,
            variables ?? invocation.CommandContext.Variables, troubles);
        await Start(app, settings, invocation.Cancel);
        var logger = app.Services.GetRequiredService<ILoggerFactory>().CreateLogger("Chamber");
        foreach (var trouble in app.Services.GetRequiredService<FileTroubles>().All)
        {
            Log.FileTrouble(logger, trouble);
        }

        foreach (var line in app.Services.GetRequiredService<Storage.ChamberStore>().FindLeftOut())
        {
            Log.LeftOut(logger, line);
        }

        Log.Ready(logger, data.Path, Reach(settings, app.Services));
        TellCode(settings.Page, app.Services, logger);
        if (whenReady is not null)
        {
            await whenReady(app.Services, invocation.Cancel);
        }

        await app.WaitForShutdownAsync(invocation.Cancel);
        Log.Stopping(logger);

        // What stands behind no fence and faulted has stopped the host: whoever started it must hear of that.
        return app.Services.GetServices<IHostedService>().OfType<BackgroundService>()
            .Any(worker => worker.ExecuteTask is { IsFaulted: true })
            ? ExitCode.Failed
            : ExitCode.Done;
    }

    private static async Task Start(WebApplication app, Settings settings, CancellationToken cancel)
    {
        try
        {
            await app.StartAsync(cancel);
        }
        catch (IOException problem) when (problem.InnerException is Microsoft.AspNetCore.Connections.AddressInUseException)
        {
            throw new IOException($"The page cannot be served at {PageAddress.Of(settings.Page)}: something runs there already; choose "
                + $"another page.port.", problem);
        }
    }

    private static string Reach(Settings settings, IServiceProvider services)
    {
        var page = PageAddress.Of(settings.Page) is { } address ? $"The page: {address}. " : string.Empty;
        var broker = settings.Broker.Own
            ? string.Join(", ", BrokerParts.Own(settings.Broker, services.GetRequiredService<DataDirectory>()).Listeners.Select(
                listener => $"{listener.Address}:{listener.Port}"))
            : $"{settings.Broker.Host}:{settings.Broker.Port}";
        return $"{page}Readings: MQTT at {broker}, topic chamber/NAME/reading.";
    }

    // Whoever can read the console sits at this machine or may read its log.
    private static void TellCode(PageSettings page, IServiceProvider services, ILogger logger)
    {
        if (page.On && (page.BehindProxy || !System.Net.IPAddress.IsLoopback(System.Net.IPAddress.Parse(page.Address)))
            && services.GetRequiredService<Gatekeeper>().TakeCodeToTell() is { } code)
        {
            Log.SignUpCode(logger, code);
        }
    }
}
