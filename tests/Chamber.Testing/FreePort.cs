using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;

namespace Chamber.Testing;

/// <summary>Hands out TCP ports of the loopback address that nobody listens on, each once in a test run.</summary>
public static class FreePort
{
    private static readonly ConcurrentDictionary<int, bool> Given = new();

    /// <summary>A port that was free a moment ago. The system may give it to another program before the caller takes it.</summary>
    public static int Next()
    {
        while (true)
        {
            using var listener = new TcpListener(IPAddress.Loopback, 0);
            listener.Start();
            var port = ((IPEndPoint)listener.LocalEndpoint).Port;
            if (Given.TryAdd(port, true))
            {
                return port;
            }
        }
    }
}
