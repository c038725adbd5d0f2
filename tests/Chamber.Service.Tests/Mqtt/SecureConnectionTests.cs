using System.Net;
using System.Net.Sockets;
using Chamber.Mqtt.Connection;
using Chamber.Testing;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>TLS with an authority of the home's own, passwords and client certificates, against the broker of Debian. Codes are those of
/// HTTP (RFC 9110).</summary>
public sealed class SecureConnectionTests : IDisposable
{
    private const string Password = "a long password";

    private readonly TempFolder folder = new();
    private readonly TestAuthority authority;

    public SecureConnectionTests() => authority = new(folder);

    public void Dispose()
    {
        authority.Dispose();
        folder.Dispose();
    }

    [Theory]
    [InlineData(MqttVersion.V5)]
    [InlineData(MqttVersion.V311)]
    public async Task Readings_arrive_over_TLS_from_a_broker_that_the_own_authority_signed(MqttVersion version)
    {
        var (certificate, key) = authority.Sign("localhost");
        await using var mosquitto = await Mosquitto.Start(
            _ => ["allow_anonymous true", $"certfile {certificate}", $"keyfile {key}", "user root"]);
        await using var rig = new IntakeRig();
        await rig.Join(Tls(mosquitto) with { Version = version });

        await mosquitto.PublishLines("chamber/mat/reading", SubscriberTests.Numbered(0, 100), 1, "--cafile", authority.File);

        await rig.Until(() => rig.Temperatures.Count == 100);
    }

    [Fact]
    public async Task Readings_arrive_from_a_broker_that_demands_user_and_password()
    {
        await using var mosquitto = await WithPassword();
        await using var rig = new IntakeRig();
        await rig.Join(new() { Port = mosquitto.Port, User = "chamber", PasswordFile = folder.Write("password", Password + "\n") });

        await mosquitto.PublishLines("chamber/mat/reading", SubscriberTests.Numbered(0, 10), 1, "-u", "chamber", "-P", Password);

        await rig.Until(() => rig.Temperatures.Count == 10);
    }

    [Fact]
    public async Task Readings_arrive_from_a_broker_that_knows_its_clients_by_certificate()
    {
        await using var mosquitto = await WithClientCertificates();
        var (certificate, key) = authority.Sign("chamber");
        await using var rig = new IntakeRig();
        await rig.Join(Tls(mosquitto) with { CertificateFile = certificate, KeyFile = key });

        await mosquitto.PublishLines("chamber/mat/reading", SubscriberTests.Numbered(0, 10), 1, "--cafile", authority.File, "--cert",
            certificate, "--key", key);

        await rig.Until(() => rig.Temperatures.Count == 10);
    }

    [Fact]
    public async Task A_check_of_a_good_connection_finds_nothing_wrong()
    {
        await using var mosquitto = await WithPassword();

        Assert.Null(await Check(new() { Port = mosquitto.Port, User = "chamber", Password = Password }));
    }

    [Fact]
    public async Task A_wrong_password_is_told_as_that()
    {
        await using var mosquitto = await WithPassword();
        var address = new BrokerAddress { Port = mosquitto.Port, User = "chamber", Password = "wrong" };

        var place = $"The broker at 127.0.0.1:{mosquitto.Port}";
        Assert.Equal($"{place} refused the user \"chamber\": correct user and password.", await Check(address));
        Assert.Equal($"{place} refused the user \"chamber\": correct user and password.",
            await Check(address with { Version = MqttVersion.V311 }));
        Assert.Equal($"{place} lets nobody in without user and password: give both.",
            await Check(address with { User = null, Password = null }));
    }

    [Fact]
    public async Task A_wrong_authority_and_a_wrong_name_are_told_apart()
    {
        var (certificate, key) = authority.Sign("localhost");
        await using var mosquitto = await Mosquitto.Start(
            _ => ["allow_anonymous true", $"certfile {certificate}", $"keyfile {key}", "user root"]);
        var (foreign, foreignKey) = authority.Sign("kitchen");
        await using var kitchen = await Mosquitto.Start(
            _ => ["allow_anonymous true", $"certfile {foreign}", $"keyfile {foreignKey}", "user root"]);
        using var other = new TestAuthority(folder, "other authority");
        var address = Tls(mosquitto);

        Assert.Null(await Check(address));
        Assert.Contains($"is not signed by the authority in {other.File}", await Check(address with { AuthorityFile = other.File }),
            StringComparison.Ordinal);
        Assert.Contains("signed by no authority that this system trusts", await Check(address with { AuthorityFile = null }),
            StringComparison.Ordinal);
        Assert.Contains("is made out to another name", await Check(Tls(kitchen)), StringComparison.Ordinal);
        Assert.Contains("A file of the connection cannot be read", await Check(address with { AuthorityFile = folder.File("none.pem") }),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_missing_client_certificate_is_told_as_that()
    {
        await using var mosquitto = await WithClientCertificates();

        Assert.Contains("demands a client certificate", await Check(Tls(mosquitto)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task TLS_where_there_is_none_and_none_where_there_is_are_told()
    {
        var (certificate, key) = authority.Sign("localhost");
        await using var secure = await Mosquitto.Start(
            _ => ["allow_anonymous true", $"certfile {certificate}", $"keyfile {key}", "user root"]);
        await using var plain = await Mosquitto.Start();

        Assert.Contains("or demands TLS", await Check(new() { Port = secure.Port }), StringComparison.Ordinal);
        Assert.Contains($"localhost:{plain.Port} closed the connection", await Check(Tls(plain)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_place_where_nobody_listens_is_told_as_that()
    {
        var port = FreePort.Next();

        Assert.Equal($"Nobody listens at 127.0.0.1:{port}: start the broker, or correct host and port.",
            await Check(new() { Port = port }));
        Assert.Contains("is not known on this network", await Check(new() { Host = "no-such-broker.invalid", Port = port }),
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("HTTP/1.1 400 Bad Request\r\n\r\n")]
    [InlineData("")]
    public async Task What_answers_without_being_a_broker_is_told_as_that(string answer)
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        var serving = Serve(listener, answer);

        var fault = await Check(new() { Port = ((IPEndPoint)listener.LocalEndpoint).Port });

        Assert.Contains("is no MQTT broker", fault, StringComparison.Ordinal);
        await serving;
    }

    [Fact]
    public async Task Silence_is_told_after_the_time_allowed()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();

        Assert.StartsWith("No answer from", await Check(new() { Port = ((IPEndPoint)listener.LocalEndpoint).Port, TimeoutSeconds = 1 }),
            StringComparison.Ordinal);
    }

    private static async Task Serve(TcpListener listener, string answer)
    {
        using var client = await listener.AcceptTcpClientAsync();
        var request = new byte[1024];
        Assert.NotEqual(0, await client.GetStream().ReadAsync(request));
        await client.GetStream().WriteAsync(System.Text.Encoding.ASCII.GetBytes(answer));
    }

    private static Task<string?> Check(BrokerAddress address) => BrokerCheck.TryAsync(address, TestContext.Current.CancellationToken);

    private BrokerAddress Tls(Mosquitto mosquitto) =>
        new() { Host = "localhost", Port = mosquitto.Port, Tls = true, AuthorityFile = authority.File };

    private async Task<Mosquitto> WithPassword()
    {
        var users = folder.File("users");
        (await RunningProgram.Run("mosquitto_passwd", ["-b", "-c", users, "chamber", Password])).Succeeded();
        return await Mosquitto.Start(_ => ["allow_anonymous false", $"password_file {users}", "user root"]);
    }

    private Task<Mosquitto> WithClientCertificates()
    {
        var (certificate, key) = authority.Sign("localhost");
        return Mosquitto.Start(_ =>
        [
            $"certfile {certificate}", $"keyfile {key}", $"cafile {authority.File}", "require_certificate true",
                "use_identity_as_username true", "user root",
        ]);
    }
}
