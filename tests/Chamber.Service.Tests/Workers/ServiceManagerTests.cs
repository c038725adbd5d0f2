using System.Net.Sockets;
using System.Text;
using Chamber.Service.Workers;
using Chamber.Testing;
using Microsoft.Extensions.Hosting.Systemd;
using NSubstitute;

namespace Chamber.Service.Tests.Workers;

/// <summary>The protocol of sd_notify(3) against a real datagram socket, as systemd opens one.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class ServiceManagerTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly Socket manager = new(AddressFamily.Unix, SocketType.Dgram,
        ProtocolType.Unspecified) { ReceiveTimeout = (int)RunningProgram.Patience.TotalMilliseconds };

    public void Dispose()
    {
        manager.Dispose();
        folder.Dispose();
    }

    [Fact]
    public void Where_nobody_listens_nothing_is_heard()
    {
        Assert.False(new ServiceManager(new SystemdNotifier(), _ => null).Tell("READY=1"));
    }

    // The real one has no way to make a socket fail; everything else here goes through it.
    [Fact]
    public void A_manager_that_has_gone_away_stops_nothing()
    {
        var gone = Substitute.For<ISystemdNotifier>();
        gone.IsEnabled.Returns(true);
        gone.When(way => way.Notify(Arg.Any<ServiceState>())).Throw(new SocketException((int)SocketError.ConnectionRefused));

        Assert.False(new ServiceManager(gone, _ => null).Tell("WATCHDOG=1"));
    }

    [Theory]
    [InlineData("30000000", null, 30)]
    [InlineData("30000000", "1", null)]
    [InlineData("0", null, null)]
    [InlineData(null, null, null)]
    [InlineData("soon", null, null)]
    public void The_watchdog_counts_only_when_it_is_meant_for_this_process(string? microseconds, string? process, int? seconds)
    {
        var asked = new ServiceManager(new SystemdNotifier(),
            name => name switch { "WATCHDOG_USEC" => microseconds, "WATCHDOG_PID" => process, _ => null });
        Assert.Equal(seconds is { } whole ? TimeSpan.FromSeconds(whole) : null, asked.WatchdogWithin);
    }

    [Fact]
    public async Task The_service_says_that_it_is_ready_that_it_lives_and_that_it_stops()
    {
        manager.Bind(new UnixDomainSocketEndPoint(folder.File("notify")));
        folder.Write("chamber.json", $$"""{ "broker": { "listen": [{ "port": {{FreePort.Next()}} }] }, "page": { "on": false } }""");
        await using var service = ChamberProcess.Start(
            new Dictionary<string, string?> { ["NOTIFY_SOCKET"] = folder.File("notify"), ["WATCHDOG_USEC"] = "400000" },
            "run", "--data", folder.Path);

        Assert.StartsWith("READY=1", Next(), StringComparison.Ordinal);
        var lives = new[] { Next(), Next(), Next(), Next() };
        Assert.True(lives.Count(line => line == "WATCHDOG=1") >= 2, string.Join(" / ", lives));
        Assert.Contains(lives, line => line.StartsWith("STATUS=", StringComparison.Ordinal));

        service.AskToStop();
        while (Next() != "STOPPING=1")
        {
        }
    }

    private string Next()
    {
        var buffer = new byte[4096];
        return Encoding.UTF8.GetString(buffer, 0, manager.Receive(buffer));
    }
}
