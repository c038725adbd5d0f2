using System.Globalization;
using Chamber.Testing;

namespace Chamber.Benchmarks.Pipeline;

/// <summary>
/// Chamber's whole way against the bare client library and a handy script, in one run on one machine. Each contender gets the same
/// messages from Mosquitto, queued before it connects, so that it alone sets the pace; each runs in its own process.
/// </summary>
internal static class PipelineComparison
{
    private const string ClientId = "contender";

    private static readonly string Node = SourceTree.Path("tests", "Chamber.Benchmarks", "Pipeline", "node");

    /// <param name="arguments">Messages a run (1,000,000 by default), how often (3), and a word that a contender's name must hold beside
    /// the yardstick (any).</param>
    public static async Task<int> Run(string[] arguments)
    {
        var messages = Number(arguments, 0, 1_000_000) / Load.Probes * Load.Probes;
        var rounds = Number(arguments, 1, 3);
        if (!Directory.Exists(Path.Combine(Node, "node_modules")))
        {
            await Console.Error.WriteLineAsync($"The script needs its packages once: npm install --prefix {Node}");
            return 1;
        }

        Console.WriteLine($"{messages} messages a run, the middle of {rounds}, in turns; Mosquitto, {Environment.ProcessorCount} cores");
        foreach (var qos in (int[])[0, 1])
        {
            await Compare(qos, messages, rounds, arguments.ElementAtOrDefault(2) ?? string.Empty);
        }

        return 0;
    }

    /// <summary>Entry of a contender's process.</summary>
    public static async Task<int> Contend(string[] arguments)
    {
        var port = int.Parse(arguments[1], CultureInfo.InvariantCulture);
        var messages = int.Parse(arguments[2], CultureInfo.InvariantCulture);
        await (arguments[0] switch
        {
            "do-nothing" => DoNothing.Run(port, ClientId, messages),
            "whole-way" => WholeWay.Run(port, ClientId, messages, arguments[3], Enum.Parse<Durability>(arguments[4])),
            _ => throw new ArgumentException($"There is no contender {arguments[0]}."),
        });
        return 0;
    }

    /// <summary>Chamber's whole way alone, at QoS 1.</summary>
    public static Task<Outcome> WholeWayAlone(int messages) => Measure(
        Own("Chamber", (port, count, file) => ["whole-way", port, count, file, nameof(Durability.ProcessEnd)]), 1, messages);

    // In turns, so that a busy minute of the machine meets all of them.
    private static async Task Compare(int qos, int messages, int rounds, string word)
    {
        var contenders = Contenders(qos).ToList();
        var yardstickName = contenders.FindLast(contender => contender.IsScript)!.Name;
        contenders.RemoveAll(contender => contender.Name != yardstickName && !contender.Name.Contains(word, StringComparison.Ordinal));
        var runs = contenders.ConvertAll(_ => new List<Outcome>());
        for (var round = 0; round < rounds; round++)
        {
            for (var i = 0; i < contenders.Count; i++)
            {
                runs[i].Add(await Measure(contenders[i], qos, messages));
            }
        }

        Console.WriteLine($"QoS {qos}");
        var yardstick = Outcome.Median(runs[contenders.FindLastIndex(contender => contender.IsScript)]);
        for (var i = 0; i < contenders.Count; i++)
        {
            var median = Outcome.Median(runs[i]);
            Benchmarks.Measure.Say(
                $"  {contenders[i].Name,-44} {median}  {median.PerSecond / yardstick.PerSecond,5:0.00} by the clock, {yardstick.CpuSeconds / median.CpuSeconds,5:0.00} by the processor");
        }
    }

    private static int Number(string[] arguments, int position, int usual) =>
        arguments.Length > position ? int.Parse(arguments[position], CultureInfo.InvariantCulture) : usual;

    private static IEnumerable<Contender> Contenders(int qos)
    {
        yield return Own("MQTTnet, does nothing", (port, count, _) => ["do-nothing", port, count]);
        yield return Script(qos == 0 ? "Node" : "Node, acknowledges as it comes", "as-it-comes");
        if (qos == 1)
        {
            yield return Script("Node, commits thousands, then acknowledges", "commit-first");
            yield return Own("Chamber, survives a power cut",
                (port, count, file) => ["whole-way", port, count, file, nameof(Durability.PowerLoss)]);
        }

        yield return Own("Chamber", (port, count, file) => ["whole-way", port, count, file, nameof(Durability.ProcessEnd)]);

        Contender Script(string name, string order) =>
            new(name, IsScript: true, (port, count, file) =>
                ("node", [Path.Combine(Node, "script.mjs"), port, ClientId, $"{qos}", count, file, order]));
    }

    private static Contender Own(string name, Func<string, string, string, string[]> arguments) =>
        new(name, IsScript: false, (port, count, file) => (Environment.ProcessPath!, ["contender", .. arguments(port, count, file)]));

    private static async Task<Outcome> Measure(Contender contender, int qos, int messages)
    {
        using var folder = new TempFolder();
        await using var broker = await Mosquitto.Start(_ => ["allow_anonymous true", "queue_qos0_messages true"]);
        using (var waiting = new RawClient(broker.Port, ClientId, clean: false))
        {
            waiting.Subscribe(Load.Filter, qos);
        }

        using (var sender = new RawClient(broker.Port, "sender", clean: true))
        {
            sender.Publish(Load.Messages(messages, TimeProvider.System.GetUtcNow()), qos);
        }

        var (program, arguments) = contender.Start($"{broker.Port}", $"{messages}", folder.File("readings.db"));
        var result = await RunningProgram.Run(program, arguments);
        return Outcome.Parse(result.Succeeded().Split('\n').Last(line => line.StartsWith('{')));
    }

    private sealed record Contender(string Name, bool IsScript, Func<string, string, string, (string Program, string[] Arguments)> Start);
}
