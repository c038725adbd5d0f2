using System.Diagnostics;
using System.Globalization;
using Chamber.Club.Homes;
using Chamber.Club.Store;
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
/// Arguments: homes, minutes, silos, how many hours of the past each probe has, one reading an hour, and the word pinned where each silo
/// is to have one core alone.
/// </summary>
internal static class ClubLoad
{
    private const int InFlight = 200;

    public static async Task<int> Run(string[] arguments)
    {
        var (homes, minutes, silos, hours) = (Number(arguments, 0, 1000), Number(arguments, 1, 3), Number(arguments, 2, 1),
            Number(arguments, 3, 24));
        await using var server = await PostgreSql.Start();
        await using var broker = await Mosquitto.Start();
        var address = await server.MakeDatabase();
        await using var club = ClubDatabase.Open(address);
        await ClubHomes.Fill(club, homes, Duration.FromHours(hours), Duration.FromHours(1));
        await using var programs = new ClubPrograms(server);
        for (var silo = 0; silo < silos; silo++)
        {
            var program = await programs.Silo($"silo {silo + 1}", address,
                arguments.Contains("pinned") ? silo % Environment.ProcessorCount : null);
            if (silo == 0)
            {
                Measure.Say($"memory of a silo without homes: {ClubPrograms.MegabytesOf(program.Id)} MB");
            }
        }

        await programs.Intake(address, broker);
        using var client = await Connect(broker);

        // The first minute wakes every home.
        await Speak(client, homes, 1);
        await Settle();
        programs.Tell("the first minute, in which all homes wake", homes * ClubHomes.Probes.Length, before: null);

        // With their second look forecasts and surveys follow.
        var woken = programs.Busy();
        await Speak(client, homes, 2);
        await Settle();
        programs.Tell("two minutes more, in which forecasts and surveys follow", homes * ClubHomes.Probes.Length * 2L, woken);
        var before = programs.Busy();
        await Speak(client, homes, minutes);
        await Settle();
        programs.Tell($"{minutes} more minutes", (long)homes * ClubHomes.Probes.Length * minutes, before);
        await Ask(address, homes);
        return 0;
    }

    public static async Task<IMqttClient> Connect(Mosquitto broker)
    {
        var client = new MqttClientFactory().CreateMqttClient();
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", broker.Port).Build());
        return client;
    }

    // Spread over the minute as probes are.
    public static async Task Speak(IMqttClient client, int homes, int minutes)
    {
        var waiting = new Queue<Task>();
        var clock = Stopwatch.StartNew();
        for (long sent = 0, all = (long)homes * ClubHomes.Probes.Length * minutes; sent < all; sent++)
        {
            var due = TimeSpan.FromMinutes((double)sent / (homes * ClubHomes.Probes.Length));
            if (due - clock.Elapsed is var ahead && ahead > TimeSpan.FromMilliseconds(5))
            {
                await Task.Delay(ahead, TimeProvider.System);
            }

            var (home, index) = ((int)(sent % homes), (int)(sent / homes % ClubHomes.Probes.Length));
            var at = SystemClock.Instance.GetCurrentInstant();
            waiting.Enqueue(client.PublishStringAsync($"homes/{ClubHomes.Name(home)}/chamber/{ClubHomes.Probes[index]}/reading",
                OwnPayload.Of(at, ClubHomes.Celsius(home, index, at)), MqttQualityOfServiceLevel.AtLeastOnce));
            if (waiting.Count > InFlight)
            {
                await waiting.Dequeue();
            }
        }

        await Task.WhenAll(waiting);
        Measure.Say($"  sent in {clock.Elapsed.TotalSeconds:F0} s where {minutes * 60} were due; load of the machine {ClubPrograms.Load()}");
    }

    // What was sent last is taken in by then.
    public static Task Settle() => Task.Delay(TimeSpan.FromSeconds(5), TimeProvider.System);

    private static async Task Ask(string address, int homes)
    {
        using var asking = SiloHost.Client(address);
        await asking.StartAsync();
        var grains = asking.Services.GetRequiredService<IGrainFactory>();
        var times = new List<double>();
        for (var i = 0; i < 200; i++)
        {
            var clock = Stopwatch.GetTimestamp();
            await HomeAsking.UntilAnsweredAsync(
                grains.GetGrain<IHomeGrain>(1 + i * 7919 % homes), one => one.ShowAsync(), CancellationToken.None);
            times.Add(Stopwatch.GetElapsedTime(clock).TotalMilliseconds);
        }

        times.Sort();
        Measure.Say($"a home in memory answers in {times[100]:F1} ms in the middle, {times[189]:F1} ms for 95 in 100");
        await asking.StopAsync();
    }

    public static int Number(string[] arguments, int index, int usual) =>
        arguments.Length > index ? int.Parse(arguments[index], CultureInfo.InvariantCulture) : usual;
}
