using System.Globalization;
using Chamber.Club.Homes;
using Chamber.Club.Store;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Testing;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Club.Tests.Homes;

/// <summary>Real processes while the database or the broker is away, and an intake that reaches no silo. Readings are invented.</summary>
public sealed class AwayTests : IAsyncLifetime
{
    private const int Chunk = 300;
    private const string Name = "mill-lane-4";
    private static readonly Author Ana = new("Ana", WriteWay.Page);

    private readonly Instant first = SystemClock.Instance.GetCurrentInstant() - Duration.FromHours(3);
    private PostgreSql? server;
    private Mosquitto? broker;
    private string address = "";
    private int home;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        server = await PostgreSql.Start();
        broker = await Mosquitto.Start();
        address = await server.MakeDatabase();
        await using var club = ClubDatabase.Open(address);
        home = await club.AddHomeAsync(Name, Stop);
        var at = first - Duration.FromDays(1);
        var (spot, probe) = (new SpotSetUp(new("shelf")).At(at), new ProbeSetUp(new("soil"), Core.Climate.Measurand.Media).At(at));
        var placed = new ProbePlaced(new("soil"), new("shelf")).At(at);
        await club.Home(home).WriteAsync(Ana, at, _ => [spot, probe, placed], Stop);
    }

    [Fact]
    public async Task While_the_database_is_away_homes_answer_and_nothing_is_lost()
    {
        await using var silo = await SiloProcess.Silo(address);
        await using var intake = await SiloProcess.Intake(address, broker!);
        using var asking = SiloHost.Client(address);
        await asking.StartAsync(Stop);
        var grain = asking.Services.GetRequiredService<IGrainFactory>().GetGrain<IHomeGrain>(home);
        await Send(0);
        await Wait.Until("the first readings", async () => await Last(grain) == Celsius(Chunk - 1) ? Name : null);

        await server!.Stop();
        await Send(1);
        var held = await Wait.Until("an answer without the database", async () =>
            await grain.ShowAsync() is { AsOf: not null } shown ? shown : null);
        Assert.Equal(Celsius(Chunk - 1), Assert.Single(held.Spots).Celsius!.Value, 1e-9);
        await intake.Line("waits");
        await server.StartAgain();
        await Wait.Until("what waited at the broker", async () => await Last(grain) == Celsius(2 * Chunk - 1) ? Name : null);
        Assert.Equal(Enumerable.Range(0, 2 * Chunk).Select(Celsius), await Readings());
        Assert.Null((await grain.ShowAsync()).AsOf);
    }

    [Fact]
    public async Task What_is_sent_again_after_a_killed_broker_is_taken_once()
    {
        await using var intake = await SiloProcess.Intake(address, broker!);
        await Send(0);
        await using var sending = RunningProgram.Start("mosquitto_pub",
            ["-h", "127.0.0.1", "-p", Text(broker!.Port), "-q", "1", "-l", "-t", Topic],
            string.Join('\n', Enumerable.Range(Chunk, 20 * Chunk).Select(Payload)) + "\n");
        await Wait.Until("some of the second part", async () => (await Readings()).Count > Chunk ? Name : null);
        await broker.Stop();
        await sending.Kill(); // it would go on trying to reach the broker
        await broker.StartAgain();
        await Wait.Until("the intake at the broker again", async () => await Task.FromResult(
            intake.Output.Split("receives from the broker").Length > 2 ? Name : null));
        for (var chunk = 1; chunk < 3; chunk++)
        {
            await Send(chunk);
        }

        await Wait.Until("all that was sent again", async () => (await Readings()).Count >= 3 * Chunk ? Name : null);
        var kept = await Readings();
        Assert.Equal(Enumerable.Range(0, 3 * Chunk).Select(Celsius), kept.Take(3 * Chunk));
        Assert.Equal(kept.Count, (await Numbers()).Distinct().Count());
    }

    [Fact]
    public async Task An_intake_that_reaches_no_silo_says_so_and_then_that_it_does()
    {
        await using var intake = await SiloProcess.Intake(address, broker!);
        Assert.Contains("Start a silo (chamber-club silo)", await intake.Line("No silo is reached: "), StringComparison.Ordinal);
        await using var silo = await SiloProcess.Silo(address);
        await intake.Line("The silos are reached");
    }

    // Written by something that tells nobody, as an intake that is cut off from the silos.
    [Fact]
    public async Task A_home_that_is_not_told_says_so()
    {
        await using var silo = await SiloProcess.Silo(address);
        await Wait.Until("the watch", async () =>
            (await SiloProcess.Show(address, Name)).Contains("starting up", StringComparison.Ordinal) ? null : Name);
        await using var club = ClubDatabase.Open(address);
        await club.Home(home).AppendAsync([new(new("soil"), first, SystemClock.Instance.GetCurrentInstant() - Duration.FromSeconds(10),
            Core.Climate.Temperature.FromCelsius(21))], [], [], Stop);
        Assert.Contains("not told", await SiloProcess.Show(address, Name), StringComparison.Ordinal);
    }

    public async ValueTask DisposeAsync()
    {
        await broker!.DisposeAsync();
        await server!.DisposeAsync();
    }

    private static string Topic => $"homes/{Name}/chamber/soil/reading";

    private static double Celsius(int number) => 15 + number % 1000 / 100.0;

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static async Task<double?> Last(IHomeGrain grain) => (await grain.ShowAsync()).Spots.Single().Celsius;

    private Task Send(int chunk) => broker!.PublishLines(Topic, Enumerable.Range(chunk * Chunk, Chunk).Select(Payload));

    private string Payload(int number) => string.Create(CultureInfo.InvariantCulture,
        $"{{\"temperature\": {Celsius(number)}, \"at\": \"{InstantPattern.ExtendedIso.Format(first + Duration.FromSeconds(number))}\"}}");

    private async Task<List<double>> Readings() => [.. (await All()).Select(reading => reading.Temperature!.Value.Celsius)];

    private async Task<List<Instant>> Numbers() => [.. (await All()).Select(reading => reading.MeasuredAt)];

    private async Task<List<Core.Climate.Reading>> All()
    {
        await using var club = ClubDatabase.Open(address);
        var kept = new List<Core.Climate.Reading>();
        await foreach (var reading in club.Home(home).ReadingsAsync(new("soil"), new(null, null), Stop))
        {
            kept.Add(reading);
        }

        return kept;
    }
}
