using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;

namespace Chamber.Mqtt.Announcing;

/// <summary>
/// Tells the home network where the broker is: multicast DNS (RFC 6762) with the records of DNS-SD (RFC 6763), on each network of the
/// machine. It answers beside whatever else answers on this machine, says goodbye when it stops, and takes nothing from what it hears.
/// </summary>
/// <param name="name">The name of the broker for people.</param>
/// <param name="host">The name of this machine.</param>
/// <param name="port">Where the broker listens.</param>
/// <param name="isTls">Whether it listens over TLS.</param>
/// <param name="networks">The addresses of this machine, one for each network on which to tell.</param>
/// <param name="time">The clock.</param>
public sealed class Announcer(string name, string host, int port, bool isTls, IReadOnlyList<IPAddress> networks, TimeProvider time)
{
    private const int MulticastPort = 5353;
    private const int MessageMax = 9000;
    private const uint LegacySecondsMax = 10;

    private static readonly IPEndPoint Everybody = new(IPAddress.Parse("224.0.0.251"), MulticastPort);

    // RFC 6762 section 8.3: said twice, a second apart.
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(1);

    private readonly ServiceRecords records = new(name, isTls ? "_secure-mqtt._tcp" : "_mqtt._tcp", host.Split('.')[0], port);

    /// <summary>The addresses of this machine on which others can hear it.</summary>
    public static IReadOnlyList<IPAddress> Networks() =>
        [.. NetworkInterface.GetAllNetworkInterfaces()
            .Where(one => one.OperationalStatus == OperationalStatus.Up && one.SupportsMulticast
                && one.NetworkInterfaceType != NetworkInterfaceType.Loopback)
            .Select(one => one.GetIPProperties().UnicastAddresses.Select(address => address.Address)
                .FirstOrDefault(address => address.AddressFamily == AddressFamily.InterNetwork))
            .OfType<IPAddress>()];

    /// <summary>Tells and answers until cancelled.</summary>
    /// <exception cref="SocketException">The port of multicast DNS cannot be shared.</exception>
    public Task RunAsync(CancellationToken cancel) => Task.WhenAll(networks.Select(address => RunAsync(address, cancel)));

    private async Task RunAsync(IPAddress address, CancellationToken cancel)
    {
        using var socket = Open(address);
        try
        {
            await Task.WhenAll(TellAsync(socket, address, cancel), AnswerAsync(socket, address, cancel));
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            // Asked to stop.
        }
        finally
        {
            // Kept for no time: whoever keeps it forgets it (RFC 6762 section 10.1).
            await Say(socket, [.. records.All(address).Select(record => record with { Seconds = 0 })], [], CancellationToken.None);
        }
    }

    private async Task TellAsync(Socket socket, IPAddress address, CancellationToken cancel)
    {
        await Say(socket, records.All(address), [], cancel);
        await Task.Delay(Pause, time, cancel);
        await Say(socket, records.All(address), [], cancel);
    }

    private async Task AnswerAsync(Socket socket, IPAddress address, CancellationToken cancel)
    {
        var buffer = new byte[MessageMax];
        while (true)
        {
            var heard = await socket.ReceiveFromAsync(buffer, SocketFlags.None, new IPEndPoint(IPAddress.Any, 0), cancel);
            foreach (var question in DnsWire.Questions(buffer.AsSpan(0, heard.ReceivedBytes)))
            {
                var (answers, more) = records.Answer(question, address);
                if (answers.Count > 0)
                {
                    await Reply(socket, (IPEndPoint)heard.RemoteEndPoint, buffer, question, answers, more, cancel);
                }
            }
        }
    }

    // A client that asks from another port is a plain one of DNS, and hears nothing that is said to everybody.
    private static async Task Reply(Socket socket, IPEndPoint from, byte[] heard, DnsQuestion question, IReadOnlyList<DnsRecord> answers,
        IReadOnlyList<DnsRecord> more, CancellationToken cancel)
    {
        if (from.Port == MulticastPort)
        {
            await Say(socket, answers, more, cancel);
            return;
        }

        var id = (ushort)((heard[0] << 8) | heard[1]);
        await socket.SendToAsync(DnsWire.Response([.. answers.Select(Short)], [.. more.Select(Short)], id, question), SocketFlags.None,
            from, cancel);
    }

    private static DnsRecord Short(DnsRecord record) => record with { Seconds = Math.Min(record.Seconds, LegacySecondsMax) };

    private static async Task Say(Socket socket, IReadOnlyList<DnsRecord> answers, IReadOnlyList<DnsRecord> more,
        CancellationToken cancel)
    {
        try
        {
            await socket.SendToAsync(DnsWire.Response(answers, more), SocketFlags.None, Everybody, cancel);
        }
        catch (SocketException)
        {
            // The network is away just now; whoever asks later is answered.
        }
    }

    private static Socket Open(IPAddress address)
    {
        var socket = new Socket(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        socket.SetSocketOption(SocketOptionLevel.Socket, SocketOptionName.ReuseAddress, true);
        socket.Bind(new IPEndPoint(IPAddress.Any, MulticastPort));
        socket.SetSocketOption(SocketOptionLevel.IP, SocketOptionName.AddMembership, new MulticastOption(Everybody.Address, address));
        socket.SetSocketOption(SocketOptionLevel.IP, SocketOptionName.MulticastInterface, address.GetAddressBytes());
        socket.SetSocketOption(SocketOptionLevel.IP, SocketOptionName.MulticastTimeToLive, 255);
        return socket;
    }
}
