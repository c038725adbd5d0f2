using System.Net.Sockets;
using System.Text;
using Chamber.Testing;

namespace Chamber.Shipping.Tests.Rig;

/// <summary>The socket of sd_notify(3), held by the test in place of systemd, which is not the first process here.</summary>
internal sealed class NotifySocket : IDisposable
{
    private readonly Socket socket = new(AddressFamily.Unix, SocketType.Dgram, ProtocolType.Unspecified);
    private readonly TempFolder folder = new();

    public NotifySocket()
    {
        File.SetUnixFileMode(folder.Path, (UnixFileMode)0b111_101_101);
        socket.Bind(new UnixDomainSocketEndPoint(Path));
        File.SetUnixFileMode(Path, (UnixFileMode)0b110_110_110);
    }

    public string Path => folder.File("notify");

    /// <summary>Waits until this state was told.</summary>
    public async Task Hears(string state, CancellationToken cancel)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        patience.CancelAfter(RunningProgram.Patience);
        var buffer = new byte[4096];
        for (var heard = string.Empty; !heard.Split('\n').Contains(state, StringComparer.Ordinal);)
        {
            heard = Encoding.UTF8.GetString(buffer, 0, await socket.ReceiveAsync(buffer, patience.Token));
        }
    }

    public void Dispose()
    {
        socket.Dispose();
        folder.Dispose();
    }
}
