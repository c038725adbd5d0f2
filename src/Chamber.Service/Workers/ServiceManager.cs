using System.Globalization;
using System.Net.Sockets;
using Microsoft.Extensions.Hosting.Systemd;

namespace Chamber.Service.Workers;

/// <summary>Tells systemd how the service is (sd_notify(3)). Where nobody listens nothing happens.</summary>
internal sealed class ServiceManager
{
    private readonly ISystemdNotifier notifier;

    /// <param name="notifier">The way to systemd.</param>
    /// <param name="variable">Reads the environment: WATCHDOG_USEC, WATCHDOG_PID.</param>
    public ServiceManager(ISystemdNotifier notifier, Func<string, string?> variable)
    {
        this.notifier = notifier;
        var forUs = variable("WATCHDOG_PID") is not { } process || process == Environment.ProcessId.ToString(CultureInfo.InvariantCulture);
        if (forUs && long.TryParse(variable("WATCHDOG_USEC"), NumberStyles.None, CultureInfo.InvariantCulture, out var microseconds)
            && microseconds > 0)
        {
            WatchdogWithin = TimeSpan.FromMicroseconds(microseconds);
        }
    }

    /// <summary>The service is ended unless it says that it is alive within this time; null when nobody waits for it.</summary>
    public TimeSpan? WatchdogWithin { get; }

    /// <summary>Says lines such as <c>READY=1</c>. A manager that has gone away is no reason to stop.</summary>
    /// <returns>Whether it was heard.</returns>
    public bool Tell(params string[] lines)
    {
        try
        {
            notifier.Notify(new ServiceState(string.Join('\n', lines)));
            return notifier.IsEnabled;
        }
        catch (SocketException)
        {
            return false;
        }
    }
}
