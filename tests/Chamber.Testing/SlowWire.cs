using System.Net;
using System.Net.Sockets;

namespace Chamber.Testing;

/// <summary>A TCP proxy between a program and its server: passes bytes on a few at a time, or cuts every connection.</summary>
public sealed class SlowWire : IAsyncDisposable
{
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource stop = new();
    private readonly int serverPort;
    private readonly Lock gate = new();
    private readonly List<TcpClient> open = [];
    private readonly Task accepting;
    private int cutAfter = int.MaxValue;
    private int bytesAtOnce = 64 * 1024;

    public SlowWire(int serverPort)
    {
        this.serverPort = serverPort;
        listener.Start();
        accepting = Accept();
    }

    public int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

    public string Url => $"http://127.0.0.1:{Port}";

    /// <summary>Connections that were cut in mid-stream.</summary>
    public int Cuts { get; private set; }

    /// <summary>From now on only so many bytes go through at once.</summary>
    public void Slow(int bytes) => Volatile.Write(ref bytesAtOnce, bytes);

    /// <summary>Each connection is cut once so many bytes went to the server; a further one passes as many again.</summary>
    public void CutAfter(int bytes) => Volatile.Write(ref cutAfter, bytes);

    public async ValueTask DisposeAsync()
    {
        await stop.CancelAsync();
        listener.Stop();
        lock (gate)
        {
            open.ForEach(client => client.Dispose());
        }

        await accepting;
        stop.Dispose();
    }

    private async Task Accept()
    {
        var serving = new List<Task>();
        try
        {
            while (true)
            {
                var client = await listener.AcceptTcpClientAsync(stop.Token);
                serving.Add(Serve(client));
            }
        }
        catch (Exception problem) when (problem is OperationCanceledException or SocketException or ObjectDisposedException)
        {
            await Task.WhenAll(serving);
        }
    }

    private async Task Serve(TcpClient client)
    {
        using var server = new TcpClient { NoDelay = true };
        lock (gate)
        {
            open.AddRange([client, server]);
        }

        try
        {
            await server.ConnectAsync(IPAddress.Loopback, serverPort, stop.Token);
            await Task.WhenAny(Pass(client, server, isUpward: true), Pass(server, client, isUpward: false));
        }
        catch (Exception problem) when (problem is SocketException or OperationCanceledException or ObjectDisposedException)
        {
            // The server is away: so is this connection.
        }

        client.Dispose();
    }

    private async Task Pass(TcpClient from, TcpClient to, bool isUpward)
    {
        var buffer = new byte[64 * 1024];
        var passed = 0;
        try
        {
            while (true)
            {
                var count = await from.GetStream()
                    .ReadAsync(buffer.AsMemory(0, Math.Min(buffer.Length, Volatile.Read(ref bytesAtOnce))), stop.Token);
                if (count == 0)
                {
                    return;
                }

                await to.GetStream().WriteAsync(buffer.AsMemory(0, count), stop.Token);
                passed += count;
                if (isUpward && passed >= Volatile.Read(ref cutAfter))
                {
                    Cuts++;
                    return;
                }
            }
        }
        catch (Exception problem) when (
            problem is IOException or SocketException or OperationCanceledException or ObjectDisposedException or InvalidOperationException)
        {
            // Either side has gone.
        }
    }
}
