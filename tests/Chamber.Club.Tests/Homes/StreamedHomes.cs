using System.Globalization;
using Chamber.Club.Homes;
using Chamber.Club.Store;
using Chamber.Core.Alerts;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Testing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Club.Tests.Homes;

/// <summary>Homes for which numbered readings come in at a real broker while something happens to the programs of their club. A stretch of
/// each part is so hot that it is told. Readings are invented.</summary>
internal sealed class StreamedHomes : IAsyncDisposable
{
    /// <summary>Readings of a home in one part of the stream.</summary>
    public const int Chunk = 300;

    private const int Hot = 120;
    private const int HotFor = 100;
    private static readonly string[] Names = [.. Enumerable.Range(1, 6).Select(number => $"mill-lane-{number}")];

    private readonly Instant first = SystemClock.Instance.GetCurrentInstant() - Duration.FromHours(6);
    private readonly List<RunningProgram> silos = [];
    private readonly ClubDatabase club;
    private IHost? asking;
    private IHomeGrain[] grains = [];
    private int parts;

    private StreamedHomes(string address, Mosquitto broker) => (Address, Broker, club) = (address, broker, ClubDatabase.Open(address));

    public string Address { get; }

    public Mosquitto Broker { get; }

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public static async Task<StreamedHomes> Of(ClubServer server)
    {
        var homes = new StreamedHomes(await server.Address(), await Mosquitto.Start());
        foreach (var name in Names)
        {
            var store = homes.club.Home(await homes.club.AddHomeAsync(name, Stop));
            var at = homes.first - Duration.FromDays(1);
            var (spot, probe) = (new SpotSetUp(new("shelf")).At(at), new ProbeSetUp(new("soil"), Core.Climate.Measurand.Media).At(at));
            var placed = new ProbePlaced(new("soil"), new("shelf")).At(at);
            await store.WriteAsync(new("Ana", WriteWay.Page), at, _ => [spot, probe, placed], Stop);
        }

        return homes;
    }

    /// <summary>Starts a silo whose output counts in <see cref="Check"/>.</summary>
    public async Task<RunningProgram> Silo(string? program = null, params string[] more)
    {
        silos.Add(await SiloProcess.Silo(Address, program, more));
        return silos[^1];
    }

    /// <summary>Sends the next part.</summary>
    public Task Send()
    {
        var from = parts++ * Chunk;
        return Task.WhenAll(Names.Select(name => Broker.PublishLines(
            $"homes/{name}/chamber/soil/reading", Enumerable.Range(from, Chunk).Select(Payload))));
    }

    /// <summary>Waits until every home has told what it has to tell of the first part.</summary>
    public async Task UntilTold()
    {
        foreach (var name in Names)
        {
            await Wait.Until($"what {name} has to tell", async () =>
                (await Told(name)).Exists(one => one.Kind == AlertKind.Hazard) ? name : null);
        }
    }

    /// <summary>Asks every home, by somebody who has reached the silos once, until all have answered.</summary>
    /// <returns>How long that took, s.</returns>
    public async Task<double> Ask()
    {
        if (asking is null)
        {
            asking = SiloHost.Client(Address);
            await asking.StartAsync(Stop);
            var homes = await club.HomesAsync(Names, Stop);
            grains = [.. Names.Select(name => asking.Services.GetRequiredService<IGrainFactory>().GetGrain<IHomeGrain>(homes[name]))];
        }

        var asked = TimeProvider.System.GetTimestamp();
        await Task.WhenAll(grains.Select(grain => HomeAsking.UntilAnsweredAsync(grain, one => one.ShowAsync(), Stop)));
        return TimeProvider.System.GetElapsedTime(asked).TotalSeconds;
    }

    /// <summary>Every reading that was sent is there once, each home says the last one, and nothing was told twice.</summary>
    public async Task Check()
    {
        foreach (var (name, grain) in Names.Zip(grains))
        {
            var kept = await Wait.Until($"all readings of {name}", async () =>
                await Readings(name) is { } all && all.Count >= parts * Chunk ? all : null);
            Assert.Equal(Enumerable.Range(0, parts * Chunk).Select(Celsius), kept);
            await Wait.Until($"the last reading of {name}", async () =>
                (await HomeAsking.UntilAnsweredAsync(grain, one => one.ShowAsync(), Stop)).Spots.Single().Celsius is { } last
                    && Math.Abs(last - Celsius(parts * Chunk - 1)) < 1e-9 ? name : null);
            var told = await Told(name);
            Assert.Equal(told.Distinct(), told);
            var home = await club.RequireAsync(name, Stop);
            Assert.InRange(
                silos.SelectMany(silo => silo.Output.Split('\n')).Count(
                    line => line.Contains($"Home {home}: hazard, ", StringComparison.Ordinal)),
                1, told.Count(one => one.Kind == AlertKind.Hazard));
        }
    }

    public static string Spread(List<double> seconds)
    {
        seconds.Sort();
        return string.Create(CultureInfo.InvariantCulture,
            $"{seconds.Count} times, s: {string.Join(' ', seconds.Select(one => $"{one:0.0}"))}; the middle {seconds[seconds.Count / 2]:0.0}");
    }

    public async ValueTask DisposeAsync()
    {
        asking?.Dispose();
        foreach (var silo in silos)
        {
            await silo.DisposeAsync();
        }

        await Broker.DisposeAsync();
        await club.DisposeAsync();
    }

    private string Payload(int number) => string.Create(CultureInfo.InvariantCulture,
        $"{{\"temperature\": {Celsius(number)}, \"at\": \"{InstantPattern.ExtendedIso.Format(first + Duration.FromSeconds(number))}\"}}");

    private static double Celsius(int number) =>
        number % Chunk is >= Hot and < Hot + HotFor ? 43.5 + number % 10 / 10.0 : 15 + number % 1000 / 100.0;

    private async Task<List<double>> Readings(string name)
    {
        var kept = new List<double>();
        await foreach (var reading in club.Home(await club.RequireAsync(name, Stop)).ReadingsAsync(new("soil"), new(null, null), Stop))
        {
            kept.Add(reading.Temperature!.Value.Celsius);
        }

        return kept;
    }

    private async Task<List<(AlertKind Kind, Instant OpenedAt)>> Told(string name)
    {
        var home = await club.RequireAsync(name, Stop);
        return [.. (await club.AsAsync(home, session => AlertRows.SinceAsync(session, home, Instant.MinValue), Stop))
            .Select(one => (one.Alert.Kind, one.Alert.OpenedAt))];
    }
}
