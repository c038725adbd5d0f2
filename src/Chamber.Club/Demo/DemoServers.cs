using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Npgsql;

namespace Chamber.Club.Demo;

/// <summary>PostgreSQL and Mosquitto on free ports of the loopback address, with all they keep in one temporary folder, which goes with
/// them.</summary>
internal sealed class DemoServers : IAsyncDisposable
{
    private const string Owner = "club";

    // Where Debian keeps it only root looks.
    private const string DebianMosquitto = "/usr/sbin/mosquitto";

    private readonly string folder = Directory.CreateTempSubdirectory("chamber-club-demo-").FullName;
    private readonly int databasePort = FreePort();
    private Process? broker;
    private bool hasDatabase;

    private DemoServers()
    {
    }

    public string Folder => folder;

    /// <summary>How to reach the club's database.</summary>
    public string Database => Address(Owner, Owner);

    public int BrokerPort { get; } = FreePort();

    private string Data => Path.Combine(folder, "postgresql", "data");

    /// <exception cref="IOException">A program is not installed or does not start.</exception>
    public static async Task<DemoServers> StartAsync(CancellationToken cancel)
    {
        var mosquitto = File.Exists(DebianMosquitto) ? DebianMosquitto : "mosquitto";
        DemoProgram.Require(mosquitto);
        DemoProgram.Require(PostgreSqlPrograms.Of("initdb")[^1]);
        var servers = new DemoServers();
        try
        {
            await servers.StartDatabaseAsync();
            cancel.ThrowIfCancellationRequested();
            await servers.StartBrokerAsync(mosquitto, cancel);
            return servers;
        }
        catch
        {
            await servers.DisposeAsync();
            throw;
        }
    }

    /// <summary>A port of the loopback address that nobody listens on.</summary>
    public static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    public async ValueTask DisposeAsync()
    {
        if (broker is not null)
        {
            broker.Kill();
            await broker.WaitForExitAsync();
            broker.Dispose();
        }

        if (hasDatabase)
        {
            NpgsqlConnection.ClearAllPools();
            await RunAsync("pg_ctl", "stop", "-w", "-m", "fast", "-D", Data);
        }

        Directory.Delete(folder, recursive: true);
    }

    private async Task StartDatabaseAsync()
    {
        var home = Directory.CreateDirectory(Path.Combine(folder, "postgresql")).FullName;
        if (Environment.IsPrivilegedProcess)
        {
            await DemoProgram.RunAsync("chmod", "711", folder);
            await DemoProgram.RunAsync("chown", PostgreSqlPrograms.User, home);
        }

        // What is invented can be made again, so nothing waits for the disk.
        await RunAsync("initdb", "-D", Data, "-U", "keeper", "--auth=trust", "--encoding=UTF8", "--locale=C", "--no-sync");
        await RunAsync("pg_ctl", "start", "-w", "-D", Data, "-l", Path.Combine(home, "log"), "-o",
            $"-h 127.0.0.1 -p {databasePort.ToString(CultureInfo.InvariantCulture)} -k '' -c fsync=off");
        hasDatabase = true;
        await using var source = NpgsqlDataSource.Create(Address("keeper", "postgres"));
        foreach (var statement in (string[])[$"CREATE ROLE {Owner} LOGIN CREATEROLE", $"CREATE DATABASE {Owner} OWNER {Owner}"])
        {
            await using var command = source.CreateCommand(statement);
            await command.ExecuteNonQueryAsync(CancellationToken.None);
        }
    }

    private async Task StartBrokerAsync(string mosquitto, CancellationToken cancel)
    {
        var settings = Path.Combine(folder, "mosquitto.conf");
        await File.WriteAllLinesAsync(settings, [string.Create(CultureInfo.InvariantCulture, $"listener {BrokerPort} 127.0.0.1"),
            "allow_anonymous true", "log_dest none", "max_queued_messages 0", "max_inflight_messages 0"], cancel);
        broker = DemoProgram.Start(mosquitto, "-c", settings);
        while (true)
        {
            try
            {
                using var client = new TcpClient();
                await client.ConnectAsync(IPAddress.Loopback, BrokerPort, cancel);
                return;
            }
            catch (SocketException) when (!broker.HasExited)
            {
                await Task.Delay(TimeSpan.FromMilliseconds(50), TimeProvider.System, cancel);
            }
            catch (SocketException)
            {
                throw new IOException($"Mosquitto does not start: {(await broker.StandardError.ReadToEndAsync(cancel)).Trim()}");
            }
        }
    }

    private string Address(string user, string database) => string.Create(CultureInfo.InvariantCulture,
        $"Host=127.0.0.1;Port={databasePort};Database={database};Username={user};Timeout=60;Command Timeout=120");

    private static Task RunAsync(string program, params string[] arguments) =>
        DemoProgram.RunAsync([.. PostgreSqlPrograms.Of(program), .. arguments]);
}
