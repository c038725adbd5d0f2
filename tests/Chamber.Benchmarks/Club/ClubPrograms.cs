using System.Diagnostics;
using System.Globalization;
using Chamber.Testing;

namespace Chamber.Benchmarks.Club;

/// <summary>The programs of a club as real processes, and what they have taken of processor and memory.</summary>
/// <param name="server">Their database server.</param>
internal sealed class ClubPrograms(PostgreSql server) : IAsyncDisposable
{
    private readonly List<(string Name, RunningProgram Program)> programs = [];

    /// <summary>Starts one, on one core alone where that is named.</summary>
    public async Task<RunningProgram> Start(string name, string line, int? core, params string[] arguments)
    {
        var club = SourceTree.Path("artifacts", "bin", "Chamber.Club", SourceTree.Configuration, "chamber-club");
        var program = core is { } one
            ? RunningProgram.Start("taskset", ["-c", Text(one), club, .. arguments])
            : RunningProgram.Start(club, arguments);
        await program.Line(line);
        programs.Add((name, program));
        return program;
    }

    public Task<RunningProgram> Silo(string name, string address, int? core = null) => Start(name, "watches homes", core,
        "silo", "--database", address, "--silo-port", Text(FreePort.Next()), "--gateway-port", Text(FreePort.Next()));

    public Task<RunningProgram> Intake(string address, Mosquitto broker) => Start("intake", "receives from the broker", null,
        "intake", "--database", address, "--slots", "1", "--broker-port", Text(broker.Port));

    /// <summary>Seconds of processor that each has taken so far.</summary>
    public Dictionary<string, double> Busy() => programs.Select(one => (one.Name, Seconds: SecondsOf(one.Program.Id)))
        .Append(("PostgreSQL", Seconds: PostgresIds().Sum(SecondsOf))).ToDictionary(one => one.Item1, one => one.Seconds);

    /// <summary>Tells what each has taken since.</summary>
    /// <returns>Microseconds a reading, all together.</returns>
    public double Tell(string what, long readings, Dictionary<string, double>? before)
    {
        Measure.Say($"{what}: {readings:N0} readings");
        var all = 0.0;
        foreach (var (name, seconds) in Busy())
        {
            var busy = seconds - (before?.GetValueOrDefault(name) ?? 0);
            var memory = programs.Find(one => one.Name == name) is { Program: { } program } ? $", {MegabytesOf(program.Id)} MB" : "";
            Measure.Say($"  {name,-10} {busy,7:F1} s of processor, {busy / readings * 1e6,6:F0} µs a reading{memory}");
            all += busy / readings * 1e6;
        }

        Measure.Say($"  {"together",-10} {all,33:F0} µs a reading; load of the machine {Load()}");
        return all;
    }

    public static long MegabytesOf(int process) => Process.GetProcessById(process).WorkingSet64 >> 20;

    public static string Load() => File.ReadAllText("/proc/loadavg").Split(' ')[0];

    /// <summary>Seconds of processor of a process. What has ended counts in its parent: the third and fourth are those.</summary>
    public static double SecondsOf(int process)
    {
        try
        {
            return Words(process)[11..15].Sum(ticks => double.Parse(ticks, CultureInfo.InvariantCulture)) / 100;
        }
        catch (IOException)
        {
            return 0;
        }
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var (_, program) in programs)
        {
            await program.DisposeAsync();
        }
    }

    private List<int> PostgresIds() =>
        [server.ProcessId, .. Directory.GetDirectories("/proc").Select(Path.GetFileName).Where(name => int.TryParse(name, out _))
            .Select(name => int.Parse(name!, CultureInfo.InvariantCulture)).Where(id => ParentOf(id) == server.ProcessId)];

    private static int ParentOf(int process)
    {
        try
        {
            return int.Parse(Words(process)[1], CultureInfo.InvariantCulture);
        }
        catch (IOException)
        {
            return 0;
        }
    }

    private static string[] Words(int process) =>
        File.ReadAllText($"/proc/{process}/stat").Split(')')[^1].Split(' ', StringSplitOptions.RemoveEmptyEntries);

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}
