using System.Globalization;
using Chamber.Mqtt.Broker;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Intake;
using Chamber.Testing;
using Microsoft.Extensions.Logging.Abstractions;

namespace Chamber.Benchmarks.Running;

/// <summary>
/// What attacks on memory take from the built-in broker, with its bounds and without (tests/cases/faults/broker.csv): each broker is a
/// process of its own, in which nothing else was before. Held is what its heap keeps after a full collection, resident what the machine
/// gave it at the most.
/// </summary>
internal static class AttackBenchmark
{
    private const int Times = 10;

    private static readonly BrokerOptions Unbounded = new()
    {
        ClientsMax = int.MaxValue,
        ConnectionsOfAddressMax = int.MaxValue,
        ConnectLengthMax = int.MaxValue,
        PacketLengthMax = int.MaxValue,
        RetainedMax = int.MaxValue,
        RetainedBytesMax = long.MaxValue,
        SubscriptionsMax = int.MaxValue,
        SessionsMax = int.MaxValue,
        WaitingBytesMax = long.MaxValue,
        ReaderBytesMax = long.MaxValue,
        ReadersBytesMax = long.MaxValue,
    };

    public static async Task<int> Run(string[] arguments)
    {
        var attacks = File.ReadLines(SourceTree.Path("tests", "cases", "faults", "broker.csv")).Skip(1).Select(line => line.Split(',')[0])
            .Where(attack => arguments.Length == 0 || arguments.Contains(attack));
        Measure.Say($"{"attack",-42} {"with bounds: held",18} {"resident",10} {"without: held",15} {"resident",10}");
        foreach (var attack in attacks)
        {
            var (bounded, unbounded) = (await Make(attack, "bounded"), await Make(attack, "unbounded"));
            Measure.Say($"{attack,-42} {bounded.Held,15:F1} MB {bounded.Resident,7:F0} MB {unbounded.Held,12:F1} MB {unbounded.Resident,7:F0} MB");
        }

        return 0;
    }

    /// <summary>The broker of one attack: says when it listens, and once a file appears what it holds.</summary>
    public static async Task<int> Broker(string[] arguments)
    {
        var (port, folder) = (int.Parse(arguments[0], CultureInfo.InvariantCulture), arguments[2]);
        using var stop = new CancellationTokenSource();
        var intake = new ReadingIntake(new(TopicMap.Default, new DecoderOptions()), (_, _) => ValueTask.CompletedTask, TimeProvider.System,
            NullLogger<ReadingIntake>.Instance);
        var running = intake.RunAsync(stop.Token);
        await using (var broker = new BuiltInBroker(
            (arguments[1] == "bounded" ? new() : Unbounded) with { Listeners = [new() { Port = port }] }, TopicMap.Default, intake,
            new(Path.Combine(folder, "users")), Path.Combine(folder, "retained.json"), NullLogger<BuiltInBroker>.Instance))
        {
            await broker.StartAsync();
            var (before, resident) = (GC.GetTotalMemory(forceFullCollection: true), Resident());
            Console.WriteLine("listens");
            while (!File.Exists(Path.Combine(folder, "attacked")))
            {
                await Task.Delay(TimeSpan.FromMilliseconds(50), TimeProvider.System);
            }

            var peak = Resident();
            Measure.Say($"held {(GC.GetTotalMemory(forceFullCollection: true) - before) / 1e6:F1} {(peak - resident) / 1e3:F0}");
        }

        await stop.CancelAsync();
        await running;
        return 0;
    }

    private static async Task<(double Held, double Resident)> Make(string attack, string bounds)
    {
        using var folder = new TempFolder();
        var port = FreePort.Next();
        await using var broker = RunningProgram.Start(Environment.ProcessPath!,
            ["attacked-broker", port.ToString(CultureInfo.InvariantCulture), bounds, folder.Path]);
        await broker.Line("listens");
        using var stranger = new BrokerAttack(port, Times, CancellationToken.None);
        await stranger.Make(attack);
        await stranger.SpeakBeside();
        folder.Write("attacked", "");
        var words = (await broker.Line("held ")).Split(' ');
        return (double.Parse(words[1], CultureInfo.InvariantCulture), double.Parse(words[2], CultureInfo.InvariantCulture));
    }

    // VmHWM: the most that the process had in memory so far, kB.
    private static double Resident() => double.Parse(File.ReadLines("/proc/self/status")
        .Single(line => line.StartsWith("VmHWM:", StringComparison.Ordinal)).Split(' ', StringSplitOptions.RemoveEmptyEntries)[^2],
        CultureInfo.InvariantCulture);
}
