using System.Globalization;
using System.Net.Sockets;
using System.Text;

namespace Chamber.Service.Workers;

/// <summary>
/// Tells systemd how the service is, by datagrams to the socket that it names (sd_notify(3), systemd 255). Where nobody listens nothing happens.
/// </summary>
internal sealed class ServiceManager
{
    private readonly string? socket;

    /// <param name="variable">Reads the environment: NOTIFY_SOCKET, WATCHDOG_USEC, WATCHDOG_PID.</param>
    public ServiceManager(Func<string, string?> variable)
    {
        socket = variable("NOTIFY_SOCKET") is { Length: > 0 } path ? path : null;
        var forUs = variable("WATCHDOG_PID") is not { } process || process == Environment.ProcessId.ToString(CultureInfo.InvariantCulture);
        if (forUs && long.TryParse(variable("WATCHDOG_USEC"), NumberStyles.None, CultureInfo.InvariantCulture, out var microseconds) && microseconds > 0)
        {
            WatchdogWithin = TimeSpan.FromMicroseconds(microseconds);
        }
    }

    /// <summary>Whether anybody listens.</summary>
    public bool IsThere => socket is not null;

    /// <summary>The service is ended unless it says that it is alive within this time; null when nobody waits for it.</summary>
    public TimeSpan? WatchdogWithin { get; }

    /// <summary>Says lines such as <c>READY=1</c>. A manager that has gone away is no reason to stop.</summary>
    /// <returns>Whether it was heard.</returns>
    public bool Tell(params string[] lines)
    {
        if (socket is null)
        {
            return false;
        }

        try
        {
            using var way = new Socket(AddressFamily.Unix, SocketType.Dgram, ProtocolType.Unspecified);

            // A leading @ stands for the zero byte of Linux's abstract names (unix(7)).
            way.SendTo(Encoding.UTF8.GetBytes(string.Join('\n', lines)), new UnixDomainSocketEndPoint(socket[0] == '@' ? '\0' + socket[1..] : socket));
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }
}
