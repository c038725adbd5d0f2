using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace Chamber.Testing;

/// <summary>
/// Hands out TCP ports of the loopback address that nobody listens on. They lie below those that Linux gives to connections by itself
/// (from 32768, ip_local_port_range), or a browser could have one before the caller does; and all test programs of the machine count on
/// in one file, so that two never have the same.
/// </summary>
public static class FreePort
{
    private const int First = 10_240;
    private const int Last = 32_767;

    private static readonly string Counter = Path.Combine(Path.GetTempPath(), $"chamber-test-ports-{Environment.UserName}");

    public static int Next()
    {
        while (true)
        {
            var port = CountOn();
            try
            {
                using var listener = new TcpListener(IPAddress.Loopback, port);
                listener.Start();
                return port;
            }
            catch (SocketException)
            {
                // Somebody listens there.
            }
        }
    }

    private static int CountOn()
    {
        using var file = Open();
        Span<byte> digits = stackalloc byte[8];
        var before = int.TryParse(digits[..file.Read(digits)], CultureInfo.InvariantCulture, out var kept) ? kept : Last;
        var port = before is < First or >= Last ? First : before + 1;
        file.SetLength(0);
        file.Position = 0;
        file.Write(System.Text.Encoding.ASCII.GetBytes(port.ToString(CultureInfo.InvariantCulture)));
        return port;
    }

    private static FileStream Open()
    {
        while (true)
        {
            try
            {
                return new(Counter, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
            }
            catch (IOException)
            {
                // Another program counts on just now.
                Thread.Yield();
            }
        }
    }
}
