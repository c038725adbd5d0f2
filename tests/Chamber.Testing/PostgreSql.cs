using System.Globalization;
using Chamber.Club.Demo;

namespace Chamber.Testing;

/// <summary>
/// A PostgreSQL server from Debian's package, on a free port of the loopback address, with an owner of databases who is no superuser. It
/// refuses to run as root, so there it runs as the user of Debian's package.
/// </summary>
public sealed class PostgreSql : IAsyncDisposable
{
    private const string Owner = "club";
    private readonly TempFolder folder = new();
    private RunningProgram? server;
    private int databases;

    private PostgreSql(int port) => Port = port;

    public int Port { get; }

    /// <summary>Of its parent process.</summary>
    public int ProcessId => server!.Id;

    public static async Task<PostgreSql> Start()
    {
        var started = new PostgreSql(FreePort.Next());
        var data = started.folder.File("data");
        if (Environment.IsPrivilegedProcess)
        {
            (await RunningProgram.Run("chown", [PostgreSqlPrograms.User, started.folder.Path])).Succeeded();
        }

        await Run("initdb", "-D", data, "-U", "keeper", "--auth=trust", "--encoding=UTF8", "--locale=C", "--no-sync");
        await started.StartAgain();
        await started.Run("keeper", "postgres", $"CREATE ROLE {Owner} LOGIN CREATEDB CREATEROLE");
        return started;
    }

    /// <summary>Starts the server again on the same port with the same data after <see cref="Stop"/>.</summary>
    public async Task StartAgain()
    {
        var command = PostgreSqlPrograms.Of("postgres");
        server = RunningProgram.Start(command[0], [.. command[1..], "-D", folder.File("data"), "-h", "127.0.0.1",
            "-p", Port.ToString(CultureInfo.InvariantCulture), "-k", "", "-c", "fsync=off", "-c", "max_connections=200"]);
        await server.Line("database system is ready to accept connections");
    }

    /// <summary>Kills the server at once, as a power cut does.</summary>
    public async Task Stop() => await server!.Kill();

    /// <summary>Makes an empty database and returns how to reach it as its owner.</summary>
    public async Task<string> MakeDatabase()
    {
        var name = $"club_{Interlocked.Increment(ref databases)}";
        await Run(Owner, "postgres", $"CREATE DATABASE {name}");
        return Address(name);
    }

    /// <summary>Dumps a database and restores it as another, by the server's own programs and its superuser, to whom rows are open; returns
    /// how to reach that one as its owner.</summary>
    public async Task<string> RestoreFromDump(string address)
    {
        var (file, restored) = (folder.File("club.dump"), await MakeDatabase());
        string[] server = ["-h", "127.0.0.1", "-p", Port.ToString(CultureInfo.InvariantCulture), "-U", "keeper"];
        await Run("pg_dump", [.. server, "-Fc", "-f", file, NameIn(address)]);
        await Run("pg_restore", [.. server, "--exit-on-error", "-d", NameIn(restored), file]);
        return restored;

        static string NameIn(string address) =>
            address.Split(';').Single(part => part.StartsWith("Database=", StringComparison.Ordinal))["Database=".Length..];
    }

    /// <summary>How to reach a database as its owner.</summary>
    public string Address(string database) =>
        $"Host=127.0.0.1;Port={Port};Database={database};Username={Owner};Timeout=60;Command Timeout=120";

    public async ValueTask DisposeAsync()
    {
        if (server is not null)
        {
            await server.DisposeAsync();
        }

        folder.Dispose();
    }

    private async Task Run(string user, string database, string sql) => await Run("psql", "-h", "127.0.0.1", "-p",
        Port.ToString(CultureInfo.InvariantCulture), "-U", user, "-d", database, "-v", "ON_ERROR_STOP=1", "-q", "-c", sql);

    private static async Task Run(string program, params string[] arguments)
    {
        var command = PostgreSqlPrograms.Of(program);
        (await RunningProgram.Run(command[0], [.. command[1..], .. arguments])).Succeeded();
    }
}
