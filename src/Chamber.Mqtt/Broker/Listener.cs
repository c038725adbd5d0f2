using System.Collections.Concurrent;
using System.Net;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Authentication;
using System.Security.Cryptography.X509Certificates;
using Microsoft.Extensions.Logging;
using MQTTnet.Adapter;
using MQTTnet.Diagnostics.Logger;
using MQTTnet.Formatter;
using MQTTnet.Implementations;
using MQTTnet.Server;

namespace Chamber.Mqtt.Broker;

/// <summary>
/// One address of the broker. The library's own listener knows one plain and one encrypted address, takes in connections without end, and
/// packets of any length from whoever has not been let in; this one lets addresses be told apart, because who came in where decides
/// whether a password is demanded, and bounds all three.
/// </summary>
internal sealed class Listener(ListenerOptions options, BrokerOptions broker, Func<string> nextId, BrokerMetrics metrics, ILogger log)
    : IMqttServerAdapter
{
    private const int Backlog = 64;
    private const int WriterSize = 4096;
    private const int WriterSizeMax = 65535;
    private static readonly TimeSpan SayAgain = TimeSpan.FromMinutes(1);

    private readonly ConcurrentDictionary<IPAddress, int> connections = new();
    private readonly ConcurrentDictionary<Socket, bool> clients = new();
    private readonly CancellationTokenSource stop = new();
    private int open;
    private long saidRefusedAt = long.MinValue;
    private X509Certificate2? certificate;
    private Socket? socket;
    private Task accepting = Task.CompletedTask;

    public Func<IMqttChannelAdapter, Task>? ClientHandler { get; set; }

    // Whoever knocks thousands of times fills no log; each is counted.
    private void SayRefused(IPAddress from)
    {
        var (said, now) = (Volatile.Read(ref saidRefusedAt), TimeProvider.System.GetTimestamp());
        if ((said == long.MinValue || TimeProvider.System.GetElapsedTime(said, now) >= SayAgain)
            && Interlocked.CompareExchange(ref saidRefusedAt, now, said) == said)
        {
            Log.ConnectionRefused(log, from.ToString(), broker.ConnectionsOfAddressMax);
        }
    }

    public Task StartAsync(MqttServerOptions server, IMqttNetLogger logger)
    {
        certificate = options.CertificateFile is { } file ? Loaded(file, options.KeyFile) : null;
        socket = new(options.Address.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
        socket.SetSocketOption(SocketOptionLevel.Socket, SocketOptionName.ReuseAddress, true);
        socket.Bind(new IPEndPoint(options.Address, options.Port));
        socket.Listen(Backlog);
        accepting = Task.Run(() => AcceptAsync(socket, logger), CancellationToken.None);
        return Task.CompletedTask;
    }

    public async Task StopAsync()
    {
        await stop.CancelAsync();
        socket?.Dispose();
        await accepting;
        foreach (var client in clients.Keys)
        {
            client.Dispose();
        }
    }

    public void Dispose()
    {
        socket?.Dispose();
        certificate?.Dispose();
        stop.Dispose();
    }

    private static X509Certificate2 Loaded(string certificate, string? key)
    {
        using var pem = X509Certificate2.CreateFromPemFile(certificate, key);

        // A key that was only read from a file is not taken for a handshake on every system.
        return X509CertificateLoader.LoadPkcs12(pem.Export(X509ContentType.Pkcs12), null);
    }

    private async Task AcceptAsync(Socket listening, IMqttNetLogger logger)
    {
        while (!stop.IsCancellationRequested)
        {
            try
            {
                var client = await listening.AcceptAsync(stop.Token);
                _ = Task.Run(() => ServeAsync(client, logger), CancellationToken.None);
            }
            catch (Exception problem) when (problem is OperationCanceledException or ObjectDisposedException)
            {
                return;
            }
            catch (SocketException problem)
            {
                // Too many open files, or a client that is gone again: the next may be taken in.
                Log.ConnectionNotTaken(log, problem.Message);
                await Task.Delay(TimeSpan.FromMilliseconds(100), TimeProvider.System, stop.Token)
                    .ContinueWith(_ => { }, TaskScheduler.Default);
            }
        }
    }

    private async Task ServeAsync(Socket client, IMqttNetLogger logger)
    {
        var from = (client.RemoteEndPoint as IPEndPoint)?.Address ?? IPAddress.None;
        clients.TryAdd(client, true);
        try
        {
            var (ofAddress, ofAll) = (connections.AddOrUpdate(from, 1, (_, count) => count + 1), Interlocked.Increment(ref open));
            if (ofAddress > broker.ConnectionsOfAddressMax || ofAll > broker.ClientsMax)
            {
                metrics.Count("connections");
                SayRefused(from);
                return;
            }

            client.NoDelay = true;
            await using var stream = await Opened(client);
            using var channel = new BoundedChannel(new MqttTcpChannel(stream, client.LocalEndPoint, client.RemoteEndPoint, null),
                broker.ConnectLengthMax, () => metrics.Count("packet"));
            using var adapter = new MqttChannelAdapter(channel,
                new MqttPacketFormatterAdapter(new MqttBufferWriter(WriterSize, WriterSizeMax)), logger);
            using var connection = new ClientConnection(adapter, options, nextId, () => channel.Allow(broker.PacketLengthMax));
            await (ClientHandler?.Invoke(connection) ?? Task.CompletedTask);
        }
        catch (Exception problem) when (
            problem is IOException or SocketException or AuthenticationException or OperationCanceledException or ObjectDisposedException)
        {
            Log.ConnectionNotTaken(log, problem.Message);
        }
        finally
        {
            Leave(from);
            clients.TryRemove(client, out _);
            client.Dispose();
        }
    }

    private async Task<Stream> Opened(Socket client)
    {
        var plain = new NetworkStream(client, ownsSocket: true);
        if (certificate is null)
        {
            return plain;
        }

        var secure = new SslStream(plain, leaveInnerStreamOpen: false);
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(stop.Token);
        limit.CancelAfter(broker.HandshakeMax);
        await secure.AuthenticateAsServerAsync(new SslServerAuthenticationOptions { ServerCertificate = certificate }, limit.Token);
        return secure;
    }

    private void Leave(IPAddress from)
    {
        Interlocked.Decrement(ref open);
        if (connections.AddOrUpdate(from, 0, (_, count) => count - 1) <= 0)
        {
            connections.TryRemove(new(from, 0));
        }
    }
}
