using System.Globalization;

namespace Chamber.Testing;

/// <summary>The foreign broker, from Debian's package, on a free port of the loopback address, with its command-line clients.</summary>
public sealed class Mosquitto : IAsyncDisposable
{
    private readonly TempFolder folder = new();
    private readonly string configuration;
    private RunningProgram broker;

    private Mosquitto(int port, Func<TempFolder, IEnumerable<string>> lines)
    {
        Port = port;
        configuration = folder.Write("mosquitto.conf", string.Join('\n', Settings(lines(folder))));
        broker = Launch();
    }

    public int Port { get; }

    /// <summary>What the broker logged.</summary>
    public string Log => broker.Errors;

    /// <summary>Starts a broker that lets everybody in.</summary>
    public static Task<Mosquitto> Start() => Start(_ => ["allow_anonymous true"]);

    /// <summary>Starts a broker with settings of the caller's for its one listener; files may be written into the folder.</summary>
    public static async Task<Mosquitto> Start(Func<TempFolder, IEnumerable<string>> lines)
    {
        var mosquitto = new Mosquitto(FreePort.Next(), lines);
        await mosquitto.Ready();
        return mosquitto;
    }

    /// <summary>Kills the broker at once, as a power cut does.</summary>
    public Task Stop() => broker.Kill();

    /// <summary>Starts the broker again on the same port after <see cref="Stop"/>.</summary>
    public async Task StartAgain()
    {
        broker = Launch();
        await Ready();
    }

    /// <summary>Publishes one message with the broker's own client.</summary>
    public async Task Publish(string topic, string payload, int qos = 1, bool retain = false, params string[] options)
    {
        string[] arguments = [.. Address, "-t", topic, "-q", qos.ToString(CultureInfo.InvariantCulture), "-m", payload,
            .. retain ? ["-r"] : Array.Empty<string>(), .. options];
        (await RunningProgram.Run("mosquitto_pub", arguments)).Succeeded();
    }

    /// <summary>Publishes what a file holds as one message, at QoS 1.</summary>
    public async Task PublishFile(string topic, string file) =>
        (await RunningProgram.Run("mosquitto_pub", [.. Address, "-t", topic, "-q", "1", "-f", file])).Succeeded();

    /// <summary>Publishes each line of <paramref name="payloads"/> as a message, over one connection.</summary>
    public async Task PublishLines(string topic, IEnumerable<string> payloads, int qos = 1, params string[] options)
    {
        string[] arguments = [.. Address, "-t", topic, "-q", qos.ToString(CultureInfo.InvariantCulture), "-l", .. options];
        (await RunningProgram.Run("mosquitto_pub", arguments, string.Join('\n', payloads) + "\n")).Succeeded();
    }

    /// <summary>A subscriber that prints each message as <c>topic payload</c>; it is subscribed when this returns.</summary>
    public async Task<RunningProgram> Subscribe(string filter, int qos = 1, params string[] options)
    {
        var subscriber = RunningProgram.Start(
            "stdbuf",
            ["-oL", "mosquitto_sub", .. Address, "-d", "-v", "-t", filter, "-q", qos.ToString(CultureInfo.InvariantCulture), .. options]);
        await subscriber.Line("received SUBACK");
        return subscriber;
    }

    public async ValueTask DisposeAsync()
    {
        await broker.DisposeAsync();
        folder.Dispose();
    }

    private string[] Address => ["-h", "127.0.0.1", "-p", Port.ToString(CultureInfo.InvariantCulture)];

    private IEnumerable<string> Settings(IEnumerable<string> lines) =>
        [$"listener {Port} 127.0.0.1", "log_dest stderr", "persistence false", "max_queued_messages 0", "max_inflight_messages 0",
            .. lines];

    // Debian keeps the program where only root looks for it.
    private RunningProgram Launch() =>
        RunningProgram.Start(File.Exists("/usr/sbin/mosquitto") ? "/usr/sbin/mosquitto" : "mosquitto", ["-c", configuration]);

    private Task<string> Ready() => broker.Line(line => line.EndsWith(" running", StringComparison.Ordinal), "\"running\"");
}
