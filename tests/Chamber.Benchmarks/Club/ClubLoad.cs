using System.Diagnostics;
using System.Globalization;
using Chamber.Club.Homes;
using Chamber.Club.Store;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Mqtt.Decoding;
using Chamber.Testing;
using Microsoft.Extensions.DependencyInjection;
using MQTTnet;
using MQTTnet.Protocol;
using NodaTime;

namespace Chamber.Benchmarks.Club;

/// <summary>
/// A club of real processes under the load of its probes: so many homes, each with four probes on two spots that speak once a minute.
/// Tells processor time and memory of each program, and how soon homes answer somebody who has reached the silos already.
/// Arguments: homes, minutes, silos, and how many hours of the past each probe has, one reading an hour.
/// </summary>
internal static class ClubLoad
{
    private const int InFlight = 200;
    private static readonly string[] Probes = ["soil", "air", "mat", "lid"];

    public static async Task<int> Run(string[] arguments)
    {
        var (homes, minutes, silos, hours) = (Number(arguments, 0, 1000), Number(arguments, 1, 3), Number(arguments, 2, 1),
            Number(arguments, 3, 24));
        await using var server = await PostgreSql.Start();
        await using var broker = await Mosquitto.Start();
        var address = await server.MakeDatabase();
        await using var club = ClubDatabase.Open(address);
        await Fill(club, homes, hours);
        var programs = new List<(string Name, RunningProgram Program)>();
        for (var silo = 0; silo < silos; silo++)
        {
            programs.Add(($"silo {silo + 1}", await Started("watches homes", "silo", "--database", address, "--silo-port", Port(),
                "--gateway-port", Port())));
        }

        Measure.Say($"memory of a silo without homes: {MegabytesOf(programs[0].Program.Id)} MB");
        programs.Add(("intake", await Started("receives from the broker", "intake", "--database", address, "--slots", "1",
            "--broker-port", broker.Port.ToString(CultureInfo.InvariantCulture))));
        using var client = new MqttClientFactory().CreateMqttClient();
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", broker.Port).Build());

        // The first minute wakes every home.
        await Speak(client, homes, 1);
        await Tell("the first minute, in which all homes wake", programs, server, homes * Probes.Length, before: null);
        var before = Busy(programs, server);
        await Speak(client, homes, minutes);
        await Tell($"{minutes} more minutes", programs, server, homes * Probes.Length * minutes, before);
        await Ask(address, homes);
        foreach (var (_, program) in programs)
        {
            await program.DisposeAsync();
        }

        return 0;
    }

    private static async Task Fill(ClubDatabase club, int homes, int hours)
    {
        var clock = Stopwatch.StartNew();
        var now = SystemClock.Instance.GetCurrentInstant();
        var since = now - Duration.FromDays(20);
        DatedFact[] facts =
        [
            new SpotSetUp(new("shelf")).At(since), new SpotSetUp(new("heat-mat")).At(since),
            .. Probes.Select((probe, i) => new ProbeSetUp(new(probe), i % 2 == 0 ? Measurand.Media : Measurand.Air).At(since)),
            .. Probes.Select((probe, i) => new ProbePlaced(new(probe), new(i < 2 ? "shelf" : "heat-mat")).At(since)),
            new BatchSown(new("T1"), new("tomato"), Core.Crops.SowingMethod.CoveredMix, 12, null, new("heat-mat"))
                .At(now - Duration.FromDays(3)),
        ];
        await Parallel.ForEachAsync(Enumerable.Range(0, homes), new ParallelOptions { MaxDegreeOfParallelism = 4 }, async (home, cancel) =>
        {
            var store = club.Home(await club.AddHomeAsync(Name(home), cancel));
            await store.WriteAsync(new("keeper", WriteWay.Page), now, _ => facts, cancel);
            Reading[] past = [.. Enumerable.Range(1, hours).SelectMany(hour => Probes.Select((probe, i) => At(probe, home, i,
                now - Duration.FromHours(hour))))];
            await store.AppendAsync(past, [], [], cancel);
        });
        Measure.Say($"{homes} homes with {hours} hours of the past each, made in {clock.Elapsed.TotalSeconds:F0} s");
    }

    private static Reading At(string probe, int home, int index, Instant at) => new(new(probe), at, at,
        Temperature.FromCelsius(Celsius(home, index, at)));

    private static double Celsius(int home, int index, Instant at) => Math.Round(
        21 + index + home % 5 + 3 * Math.Sin(at.ToUnixTimeSeconds() / 86400.0 * Math.Tau)
            + (at.ToUnixTimeSeconds() / 60 + home) % 7 * 0.02, 2);

    // Spread over the minute as probes are.
    private static async Task Speak(IMqttClient client, int homes, int minutes)
    {
        var waiting = new Queue<Task>();
        var clock = Stopwatch.StartNew();
        for (long sent = 0, all = (long)homes * Probes.Length * minutes; sent < all; sent++)
        {
            var due = TimeSpan.FromMinutes((double)sent / (homes * Probes.Length));
            if (due - clock.Elapsed is var ahead && ahead > TimeSpan.FromMilliseconds(5))
            {
                await Task.Delay(ahead, TimeProvider.System);
            }

            var (home, index) = ((int)(sent % homes), (int)(sent / homes % Probes.Length));
            var at = SystemClock.Instance.GetCurrentInstant();
            waiting.Enqueue(client.PublishStringAsync($"homes/{Name(home)}/chamber/{Probes[index]}/reading",
                OwnPayload.Of(at, Celsius(home, index, at)), MqttQualityOfServiceLevel.AtLeastOnce));
            if (waiting.Count > InFlight)
            {
                await waiting.Dequeue();
            }
        }

        await Task.WhenAll(waiting);
        Measure.Say($"  sent in {clock.Elapsed.TotalSeconds:F0} s where {minutes * 60} were due; load of the machine {Load()}");
    }

    private static async Task Tell(string what, List<(string Name, RunningProgram Program)> programs, PostgreSql server, int readings,
        Dictionary<string, double>? before)
    {
        await Task.Delay(TimeSpan.FromSeconds(5), TimeProvider.System);
        Measure.Say($"{what}: {readings:N0} readings");
        foreach (var (name, seconds) in Busy(programs, server))
        {
            var busy = seconds - (before?.GetValueOrDefault(name) ?? 0);
            var memory = programs.Find(one => one.Name == name) is { Program: { } program } ? $", {MegabytesOf(program.Id)} MB" : "";
            Measure.Say($"  {name,-10} {busy,7:F1} s of processor, {busy / readings * 1e6,6:F0} µs a reading{memory}");
        }
    }

    private static async Task Ask(string address, int homes)
    {
        using var asking = SiloHost.Client(address);
        await asking.StartAsync();
        var grains = asking.Services.GetRequiredService<IGrainFactory>();
        var times = new List<double>();
        for (var i = 0; i < 200; i++)
        {
            var clock = Stopwatch.GetTimestamp();
            await grains.GetGrain<IHomeGrain>(1 + i * 7919 % homes).ShowAsync();
            times.Add(Stopwatch.GetElapsedTime(clock).TotalMilliseconds);
        }

        times.Sort();
        Measure.Say($"a home in memory answers in {times[100]:F1} ms in the middle, {times[189]:F1} ms for 95 in 100");
        await asking.StopAsync();
    }

    private static Dictionary<string, double> Busy(List<(string Name, RunningProgram Program)> programs, PostgreSql server) =>
        programs.Select(one => (one.Name, Seconds: SecondsOf(one.Program.Id)))
            .Append(("PostgreSQL", Seconds: PostgresIds(server).Sum(SecondsOf))).ToDictionary(one => one.Item1, one => one.Seconds);

    // What has ended counts in its parent: the third and fourth are those.
    private static double SecondsOf(int process)
    {
        try
        {
            var words = File.ReadAllText($"/proc/{process}/stat").Split(')')[^1].Split(' ', StringSplitOptions.RemoveEmptyEntries);
            return words[11..15].Sum(ticks => double.Parse(ticks, CultureInfo.InvariantCulture)) / 100;
        }
        catch (IOException)
        {
            return 0;
        }
    }

    private static List<int> PostgresIds(PostgreSql server) =>
        [server.ProcessId, .. Directory.GetDirectories("/proc").Select(Path.GetFileName).Where(name => int.TryParse(name, out _))
            .Select(name => int.Parse(name!, CultureInfo.InvariantCulture)).Where(id => ParentOf(id) == server.ProcessId)];

    private static int ParentOf(int process)
    {
        try
        {
            return int.Parse(File.ReadAllText($"/proc/{process}/stat").Split(')')[^1].Split(' ', StringSplitOptions.RemoveEmptyEntries)[1],
                CultureInfo.InvariantCulture);
        }
        catch (IOException)
        {
            return 0;
        }
    }

    private static long MegabytesOf(int process) => Process.GetProcessById(process).WorkingSet64 >> 20;

    private static string Load() => File.ReadAllText("/proc/loadavg").Split(' ')[0];

    private static async Task<RunningProgram> Started(string line, params string[] arguments)
    {
        var program = RunningProgram.Start(
            SourceTree.Path("artifacts", "bin", "Chamber.Club", SourceTree.Configuration, "chamber-club"), arguments);
        await program.Line(line);
        return program;
    }

    private static string Name(int home) => string.Create(CultureInfo.InvariantCulture, $"home-{home}");

    private static string Port() => FreePort.Next().ToString(CultureInfo.InvariantCulture);

    private static int Number(string[] arguments, int index, int usual) =>
        arguments.Length > index ? int.Parse(arguments[index], CultureInfo.InvariantCulture) : usual;
}
