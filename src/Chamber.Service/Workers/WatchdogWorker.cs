using System.Globalization;
using System.Text.Json;
using Chamber.Mqtt;
using Chamber.Service.Health;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>Says that the service lives while the watch comes round: to the service manager, and by a heartbeat on MQTT. When the watch
/// hangs both fall silent.</summary>
internal sealed class WatchdogWorker(ServiceManager manager, ServiceHealth health, BrokerWorker broker, IHostApplicationLifetime lifetime,
    TimeProvider clock) : Worker
{
    private static readonly TimeSpan BeatEvery = TimeSpan.FromMinutes(1);

    public override async Task StopAsync(CancellationToken cancellationToken)
    {
        manager.Tell("STOPPING=1");
        await base.StopAsync(cancellationToken);
    }

    protected override async Task WorkAsync(CancellationToken stop)
    {
        await Started(stop);
        manager.Tell("READY=1", "STATUS=Watching.");
        await Task.WhenAll(Beat(stop), Wag(stop));
    }

    private async Task Started(CancellationToken stop)
    {
        var started = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        await using var registration = lifetime.ApplicationStarted.Register(() => started.TrySetResult());
        await started.Task.WaitAsync(stop);
    }

    /// <summary>Twice as often as demanded, as sd_watchdog_enabled(3) advises; by the machine's own clock, which a demo does not
    /// change.</summary>
    private async Task Wag(CancellationToken stop)
    {
        if (manager.WatchdogWithin is not { } within)
        {
            return;
        }

        while (true)
        {
            if (health.IsLive)
            {
                manager.Tell("WATCHDOG=1");
            }

            await Task.Delay(within / 2, TimeProvider.System, stop);
        }
    }

    private async Task Beat(CancellationToken stop)
    {
        while (true)
        {
            var report = health.Report();
            if (report.Live)
            {
                manager.Tell($"STATUS={Status(report)}");
                var beat = new Heartbeat(Instant.FromDateTimeOffset(clock.GetUtcNow()), report.Ready, report.Trouble, report.LastReadingAt,
                    report.OpenAlerts, report.WaitingNotices, report.GivenUpNotices);
                await broker.Publisher.PublishAsync(OwnTopics.Heartbeat, JsonSerializer.SerializeToUtf8Bytes(beat, JsonText.Compact),
                    retain: false, stop);
            }

            await Task.Delay(BeatEvery, clock, stop);
        }
    }

    private static string Status(HealthReport report) => report.Trouble ?? string.Create(
        CultureInfo.InvariantCulture,
        $"Watching; {report.OpenAlerts} alerts open, {report.WaitingNotices} notices wait.");

    private sealed record Heartbeat(Instant At, bool Ready, string? Trouble, Instant? LastReadingAt, int? OpenAlerts, int? WaitingNotices,
        int? GivenUpNotices);
}
