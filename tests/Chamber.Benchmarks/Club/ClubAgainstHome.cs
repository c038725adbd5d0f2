using System.Diagnostics;
using System.Globalization;
using Chamber.Benchmarks.Pipeline;
using Chamber.Club.Store;
using Chamber.Core.Facts;
using Chamber.Mqtt.Decoding;
using Chamber.Storage;
using Chamber.Testing;
using MQTTnet.Protocol;
using NodaTime;

namespace Chamber.Benchmarks.Club;

/// <summary>
/// What a reading takes of processor in a club against one single home with a service of its own, side by side in one run: at the pace of
/// four probes that speak once a minute, and in one burst. Arguments: homes of the club, minutes, and readings of the burst, up to
/// 90,000.
/// </summary>
internal static class ClubAgainstHome
{
    private const int BurstHomes = 20;

    // Each home looks once a minute.
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(65);

    public static async Task<int> Run(string[] arguments)
    {
        var (homes, minutes, burst) = (ClubLoad.Number(arguments, 0, 1000), ClubLoad.Number(arguments, 1, 3),
            ClubLoad.Number(arguments, 2, 40_000));
        await using var server = await PostgreSql.Start();
        await using var broker = await Mosquitto.Start();
        var address = await server.MakeDatabase();
        await using var club = ClubDatabase.Open(address);
        await ClubHomes.Fill(club, homes + BurstHomes, Duration.FromDays(1), Duration.FromHours(1));
        await using var programs = new ClubPrograms(server);
        await programs.Silo("silo", address);
        await programs.Intake(address, broker);
        using var sender = await ClubLoad.Connect(broker);
        await using var own = await Mosquitto.Start();
        using var folder = new TempFolder();
        await using var home = await Single(folder, own);
        using var ownSender = await ClubLoad.Connect(own);

        // The first minute wakes all.
        await Task.WhenAll(ClubLoad.Speak(sender, homes, 1), Speak(ownSender, 1));
        await ClubLoad.Settle();
        var (before, ownBefore) = (programs.Busy(), ClubPrograms.SecondsOf(home.Id));
        await Task.WhenAll(ClubLoad.Speak(sender, homes, minutes), Speak(ownSender, minutes));
        await ClubLoad.Settle();
        var readings = ClubHomes.Probes.Length * minutes;
        var atPace = programs.Tell($"{homes} homes for {minutes} minutes", (long)homes * readings, before);
        var ownAtPace = (ClubPrograms.SecondsOf(home.Id) - ownBefore) / readings * 1e6;
        Measure.Say($"a single home's service meanwhile: {ownAtPace:N0} µs a reading; the club {atPace / ownAtPace:0.000} times that");

        await TellOfBurst();
        return 0;

        // The second of two: in the first these homes wake, and code is compiled. What the others take meanwhile counts for them.
        async Task TellOfBurst()
        {
            var each = burst / BurstHomes / ClubHomes.Probes.Length;
            var kept = ClubHomes.Probes.Length * ((long)homes * (24 + 1 + minutes) + BurstHomes * 24L);
            await Taken(Duration.FromMinutes(45));
            var taken = programs.Busy();
            await Task.Delay(Look, TimeProvider.System);
            var idle = programs.Busy();
            await Taken(Duration.FromMinutes(20));
            var inBurst = programs.Tell($"a burst for {BurstHomes} homes, less what all take without one", Sent(each),
                taken.ToDictionary(one => one.Key, one => idle[one.Key] + (idle[one.Key] - one.Value)));
            var alone = await PipelineComparison.WholeWayAlone(burst / Load.Probes * Load.Probes);
            Measure.Say($"a single home's whole way: {alone.CpuMicroseconds:F1} µs; the club {inBurst / alone.CpuMicroseconds:0.0} times that");

            async Task Taken(Duration back)
            {
                var clock = Stopwatch.StartNew();
                await Burst(sender, homes, each, back);
                await Kept(club, kept += Sent(each));
                var left = Look - clock.Elapsed;
                await Task.Delay(left > TimeSpan.Zero ? left : TimeSpan.Zero, TimeProvider.System);
            }
        }
    }

    private static long Sent(int each) => (long)BurstHomes * each * ClubHomes.Probes.Length;

    private static async Task<RunningProgram> Single(TempFolder folder, Mosquitto broker)
    {
        folder.Write("chamber.json", string.Create(CultureInfo.InvariantCulture,
            $$"""{ "broker": { "own": false, "host": "127.0.0.1", "port": {{broker.Port}} }, "page": { "on": false } }"""));
        var now = SystemClock.Instance.GetCurrentInstant();
        using (var store = ChamberStore.Open(folder.File("chamber.db")))
        {
            await store.Home.WriteAsync(new("keeper", WriteWay.Page), now, _ => ClubHomes.Facts(now, Duration.FromDays(1)));
        }

        var home = RunningProgram.Start(
            SourceTree.Path("artifacts", "bin", "Chamber.Service", SourceTree.Configuration, "chamber"), ["run", "--data", folder.Path]);
        await Task.Delay(TimeSpan.FromSeconds(10), TimeProvider.System);
        return home.HasExited ? throw new InvalidOperationException(home.Errors) : home;
    }

    private static async Task Speak(MQTTnet.IMqttClient client, int minutes)
    {
        var readings = ClubHomes.Probes.Length * minutes;
        for (var sent = 0; sent < readings; sent++)
        {
            var (at, index) = (SystemClock.Instance.GetCurrentInstant(), sent % ClubHomes.Probes.Length);
            await MQTTnet.MqttClientExtensions.PublishStringAsync(client, $"chamber/{ClubHomes.Probes[index]}/reading",
                OwnPayload.Of(at, ClubHomes.Celsius(0, index, at)), MqttQualityOfServiceLevel.AtLeastOnce);
            await Task.Delay(TimeSpan.FromMinutes(1.0 / ClubHomes.Probes.Length), TimeProvider.System);
        }
    }

    // What each probe of some homes measured once a second some time ago, all at once.
    private static async Task Burst(MQTTnet.IMqttClient client, int first, int each, Duration back)
    {
        var start = SystemClock.Instance.GetCurrentInstant() - back;
        for (var number = 0; number < each; number++)
        {
            var at = start + Duration.FromSeconds(number);
            await Task.WhenAll(
                from home in Enumerable.Range(first, BurstHomes)
                from probe in ClubHomes.Probes.Index()
                select MQTTnet.MqttClientExtensions.PublishStringAsync(client,
                    $"homes/{ClubHomes.Name(home)}/chamber/{probe.Item}/reading",
                    OwnPayload.Of(at, ClubHomes.Celsius(home, probe.Index, at)), MqttQualityOfServiceLevel.AtLeastOnce));
        }
    }

    private static async Task<long> Kept(ClubDatabase club, long wanted)
    {
        while (true)
        {
            var kept = await club.AsKeeperAsync(session => session.OneAsync<long>("SELECT count(at) FROM reading"), default);
            if (kept >= wanted)
            {
                return kept;
            }

            await Task.Delay(TimeSpan.FromSeconds(1), TimeProvider.System);
        }
    }
}
