using System.Globalization;
using Chamber.Club.Homes;
using Chamber.Club.Store;
using Chamber.Core.Alerts;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Testing;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Club.Tests.Homes;

/// <summary>Two silos watch homes while numbered readings come in; one is killed. Readings are invented.</summary>
public sealed class KilledSiloTests(ClubServer server, ITestOutputHelper output) : IAsyncLifetime
{
    private const int Chunk = 300;
    private const int Hot = 120;
    private const int HotFor = 100;
    private static readonly string[] Names = [.. Enumerable.Range(1, 6).Select(number => $"mill-lane-{number}")];
    private static readonly Author Ana = new("Ana", WriteWay.Page);

    private readonly Instant first = SystemClock.Instance.GetCurrentInstant() - Duration.FromHours(1);
    private string address = "";
    private Mosquitto? broker;
    private ClubDatabase? club;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        address = await server.Address();
        broker = await Mosquitto.Start();
        club = ClubDatabase.Open(address);
        foreach (var name in Names)
        {
            var store = club.Home(await club.AddHomeAsync(name, Stop));
            var at = first - Duration.FromDays(1);
            var (spot, probe) = (new SpotSetUp(new("shelf")).At(at), new ProbeSetUp(new("soil"), Core.Climate.Measurand.Media).At(at));
            var placed = new ProbePlaced(new("soil"), new("shelf")).At(at);
            await store.WriteAsync(Ana, at, _ => [spot, probe, placed], Stop);
        }
    }

    [Fact]
    public async Task Homes_of_a_killed_silo_go_on_at_another_and_nothing_is_told_twice()
    {
        await using var doomed = await SiloProcess.Silo(address);
        await using var steady = await SiloProcess.Silo(address);
        await using var intake = await SiloProcess.Intake(address, broker!);
        await Send(0);
        foreach (var name in Names)
        {
            await Wait.Until($"what {name} has to tell", async () => (await Told(name)).Contains(AlertKind.Hazard) ? name : null);
            Assert.Contains("shelf: ", await SiloProcess.Show(address, name), StringComparison.Ordinal);
        }

        using var asking = SiloHost.Client(address);
        await asking.StartAsync(Stop);
        var homes = await club!.HomesAsync(Names, Stop);
        var grains = Names.Select(name => asking.Services.GetRequiredService<IGrainFactory>().GetGrain<IHomeGrain>(homes[name])).ToArray();
        var sending = Send(1);
        await doomed.Kill();
        var killed = TimeProvider.System.GetTimestamp();
        await Task.WhenAll(grains.Select(grain => HomeAsking.UntilAnsweredAsync(grain, one => one.ShowAsync(), Stop)));
        output.WriteLine($"All homes answered {TimeProvider.System.GetElapsedTime(killed).TotalSeconds:0.0} s after one silo was killed.");
        await sending;
        await Send(2);
        foreach (var name in Names)
        {
            var kept = await Wait.Until($"all readings of {name}", async () =>
                await Readings(name) is { Count: >= 3 * Chunk } all ? all : null);
            Assert.Equal(Enumerable.Range(0, 3 * Chunk).Select(Celsius), kept);
            await Wait.Until($"{name} at the other silo", async () =>
                (await SiloProcess.Show(address, name)).Contains($"shelf: {Celsius(3 * Chunk - 1):0.0} °C", StringComparison.Ordinal)
                    ? name : null);
            var told = await Told(name);
            Assert.Equal(told.Distinct(), told);
        }

        var lines = (doomed.Output + "\n" + steady.Output).Split('\n').Where(line => line.Contains(": hazard, ", StringComparison.Ordinal));
        Assert.Equal(Names.Length, lines.Count());
    }

    public async ValueTask DisposeAsync()
    {
        await broker!.DisposeAsync();
        await club!.DisposeAsync();
    }

    private Task Send(int chunk) => Task.WhenAll(Names.Select(name => broker!.PublishLines(
        $"homes/{name}/chamber/soil/reading", Enumerable.Range(chunk * Chunk, Chunk).Select(Payload))));

    private string Payload(int number) => string.Create(CultureInfo.InvariantCulture,
        $"{{\"temperature\": {Celsius(number)}, \"at\": \"{InstantPattern.ExtendedIso.Format(first + Duration.FromSeconds(number))}\"}}");

    private static double Celsius(int number) =>
        number is >= Hot and < Hot + HotFor ? 43.5 + number % 10 / 10.0 : 15 + number % 1000 / 100.0;

    private async Task<List<double>> Readings(string name)
    {
        var kept = new List<double>();
        await foreach (var reading in club!.Home(await club.RequireAsync(name, Stop)).ReadingsAsync(new("soil"), new(null, null), Stop))
        {
            kept.Add(reading.Temperature!.Value.Celsius);
        }

        return kept;
    }

    private async Task<List<AlertKind>> Told(string name)
    {
        var home = await club!.RequireAsync(name, Stop);
        return [.. (await club.AsAsync(home, session => AlertRows.SinceAsync(session, home, Instant.MinValue), Stop))
            .Select(one => one.Alert.Kind)];
    }
}
