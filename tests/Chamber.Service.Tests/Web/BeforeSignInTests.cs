using System.Net;
using System.Net.Sockets;
using System.Text;
using Chamber.Mqtt.Broker;
using Chamber.Service.Tests.Mqtt;
using Chamber.Service.Tests.Web.Api;
using Chamber.Testing;

namespace Chamber.Service.Tests.Web;

/// <summary>What somebody sends who was not let in is bounded before it is held. Codes are those of HTTP (RFC 9110); bounds are the
/// program's own.</summary>
public sealed class BeforeSignInTests : IDisposable
{
    private const int Large = 28_000_000;

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_sign_in_of_28_MB_is_refused_before_it_is_read()
    {
        await using var rig = await ApiRig.Start(gate => gate.Add("Ada", "four short words do"));
        var answer = await Head(rig.Address, "POST", "/api/sign-in", "application/json");
        Assert.Contains(" 413 ", answer, StringComparison.Ordinal);

        // What guards forms against other sites reads the form first, and says 400 of one that it may not read.
        Assert.Contains(" 400 ", await Head(rig.Address, "POST", "/sign-in", "application/x-www-form-urlencoded"),
            StringComparison.Ordinal);
        Assert.Contains(" 401 ", await Head(rig.Address, "PUT", "/api/season-plan", "application/json"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(61, 20)]
    [InlineData(3, 5_000)]
    public async Task A_name_or_password_beyond_its_bound_lets_nobody_in(int name, int password)
    {
        await using var rig = await ApiRig.Start(gate => gate.Add("Ada", "four short words do"));
        var problem = await rig.Problem(HttpStatusCode.Unauthorized, "POST", "/api/sign-in",
            $$"""{ "name": "{{new string('a', name)}}", "password": "{{new string('p', password)}}" }""");
        Assert.DoesNotContain("pppppppp", problem.GetRawText(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0x10)]
    [InlineData(0x30)]
    public async Task A_first_packet_of_256_MB_ends_the_connection_before_memory_is_taken(byte kind)
    {
        await using var rig = new IntakeRig();
        var listener = new ListenerOptions { Port = FreePort.Next() };
        await using var broker = await rig.StartBroker(listener, folder);
        using var client = new TcpClient();
        await client.ConnectAsync(IPAddress.Loopback, listener.Port, TestContext.Current.CancellationToken);
        var before = GC.GetTotalAllocatedBytes();

        // The fixed header of the longest packet that there is: 268,435,455 bytes to come.
        await client.GetStream().WriteAsync(new byte[] { kind, 0xFF, 0xFF, 0xFF, 0x7F }, TestContext.Current.CancellationToken);

        Assert.Equal(0, await Wait.For("the end of the connection",
            client.GetStream().ReadAsync(new byte[1], TestContext.Current.CancellationToken).AsTask()));
        Assert.True(GC.GetTotalAllocatedBytes() - before < 100_000_000, "memory was set aside");
    }

    [Fact]
    public async Task A_client_that_was_let_in_sends_no_more_than_the_bound_in_one_packet()
    {
        await using var rig = new IntakeRig();
        var listener = new ListenerOptions { Port = FreePort.Next() };
        await using var broker = await rig.StartBroker(listener, folder);
        await using var reader = RunningProgram.Start("stdbuf",
            ["-oL", "mosquitto_sub", "-h", "127.0.0.1", "-p", listener.Port.ToString(System.Globalization.CultureInfo.InvariantCulture),
            "-t", "pictures/#", "-F", "%t %l", "-d"]);
        await reader.Line("received SUBACK");

        var small = await Publish(listener.Port, "pictures/small", 200_000);
        Assert.Equal(0, small.ExitCode);
        await reader.Line("pictures/small 200000");
        Assert.NotEqual(0, (await Publish(listener.Port, "pictures/large", 300_000)).ExitCode);
    }

    private Task<ProgramResult> Publish(int port, string topic, int length) => RunningProgram.Run(
        "mosquitto_pub", ["-h", "127.0.0.1", "-p", port.ToString(System.Globalization.CultureInfo.InvariantCulture), "-q", "1", "-t", topic,
            "-f", folder.Write("payload", new string('x', length))]);

    // Only the head of the request is sent: the answer must not wait for the body.
    private static async Task<string> Head(Uri server, string method, string path, string type)
    {
        using var client = new TcpClient();
        await client.ConnectAsync(IPAddress.Loopback, server.Port, TestContext.Current.CancellationToken);
        await using var stream = client.GetStream();
        await stream.WriteAsync(
            Encoding.ASCII.GetBytes($"{method} {path} HTTP/1.1\r\nHost: 127.0.0.1:{server.Port}\r\nContent-Type: {type}\r\nContent-Length: "
            + $"{Large}\r\n\r\n"), TestContext.Current.CancellationToken);
        using var reader = new StreamReader(stream);
        return await Wait.For("an answer", reader.ReadLineAsync(TestContext.Current.CancellationToken).AsTask()) ?? "nothing";
    }
}
