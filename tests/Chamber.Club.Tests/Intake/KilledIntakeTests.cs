using System.Globalization;
using Chamber.Club.Store;
using Chamber.Club.Tests.Homes;
using Chamber.Testing;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Club.Tests.Intake;

/// <summary>Real processes receive numbered readings from a real broker and are killed in mid-stream; in the end each reading is there
/// once.</summary>
public sealed class KilledIntakeTests(ClubServer server) : IAsyncLifetime
{
    private const int Kills = 6;
    private const int Chunk = 400;
    private static readonly string[] Names = ["mill-lane-4", "next-door"];

    private string address = "";
    private Mosquitto? broker;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        address = await server.Address();
        broker = await Mosquitto.Start();
        foreach (var name in Names)
        {
            (await RunningProgram.Run(SiloProcess.Club, ["home", "add", name, "--database", address])).Succeeded();
        }
    }

    [Fact]
    public async Task Each_reading_is_kept_once_though_who_receives_is_killed()
    {
        var now = SystemClock.Instance.GetCurrentInstant();
        var first = now - Duration.FromHours(2);
        await using var steady = await Receive();
        var doomed = await Receive();
        for (var round = 0; round < Kills; round++)
        {
            var from = round * Chunk;
            var sending = Task.WhenAll(Names.Select(home => broker!.PublishLines(
                $"homes/{home}/chamber/shelf/reading", Enumerable.Range(from, Chunk).Select(number => Payload(first, number)))));
            if (round % 2 == 0)
            {
                // As its messages come in: some of them are on their way to it.
                await doomed.Kill();
                await doomed.DisposeAsync();
                await sending;
                doomed = await Receive();
            }
            else
            {
                await sending;
                await doomed.Kill();
                await doomed.DisposeAsync();
                doomed = await Receive();
            }
        }

        await using var club = ClubDatabase.Open(address);
        var homes = await club.HomesAsync(Names, Stop);
        foreach (var home in Names)
        {
            var kept = new List<double>();
            await Wait.Until($"all readings of {home}", async () =>
            {
                kept.Clear();
                await foreach (var reading in club.Home(homes[home]).ReadingsAsync(new("shelf"), new(null, null), Stop))
                {
                    kept.Add(reading.Temperature!.Value.Celsius);
                }

                return kept.Count >= Kills * Chunk ? kept : null;
            });
            Assert.Equal(Enumerable.Range(0, Kills * Chunk).Select(Celsius), kept);
        }

        await doomed.DisposeAsync();
    }

    [Fact]
    public async Task A_slot_passes_on_when_its_process_is_killed_and_not_before()
    {
        await using var club = ClubDatabase.Open(address);
        await using var first = await Receive("--slots", "1");
        await using var second = RunningProgram.Start(SiloProcess.Club, Arguments("--slots", "1"));
        Assert.Null(await Chamber.Club.Intake.IntakeSlot.TryTakeAsync(club, 1, Stop));
        await first.Kill();
        await second.Line("chamber-club-0 receives from the broker");
    }

    [Fact]
    public async Task What_cannot_be_read_is_kept_as_refused_and_the_rest_goes_on()
    {
        await using var receiver = await Receive();
        await broker!.Publish("homes/nobody/chamber/shelf/reading", """{"temperature": 21}""");
        await broker.Publish("homes/mill-lane-4/chamber/shelf/reading", "{\"temperature\": \"warm\u0000\"}");
        await broker.Publish("homes/mill-lane-4/chamber/shelf/reading", """{"temperature": 22.5}""");
        await using var club = ClubDatabase.Open(address);
        var store = club.Home((await club.HomesAsync(Names, Stop))["mill-lane-4"]);
        await Wait.Until("the good reading", async () =>
        {
            await foreach (var reading in store.ReadingsAsync(new("shelf"), new(null, null), Stop))
            {
                return (object)reading;
            }

            return null;
        });
        await using var source = Npgsql.NpgsqlDataSource.Create(address);
        await using var session = await HomeSession.BeginAsync(source, HomeSession.IntakeRole, null, Stop);
        Assert.Equal(["shelf"], await session.RowsAsync("SELECT probe FROM refusal", row => row.GetString(0)));
    }

    public async ValueTask DisposeAsync() => await broker!.DisposeAsync();

    private static double Celsius(int number) => 15 + number % 1000 / 100.0;

    private static string Payload(Instant first, int number) => string.Create(CultureInfo.InvariantCulture,
        $"{{\"temperature\": {Celsius(number)}, \"at\": \"{InstantPattern.ExtendedIso.Format(first + Duration.FromSeconds(number))}\"}}");

    private async Task<RunningProgram> Receive(params string[] more)
    {
        var receiver = RunningProgram.Start(SiloProcess.Club, Arguments(more));
        await receiver.Line("receives from the broker");
        return receiver;
    }

    private string[] Arguments(params string[] more) =>
        ["intake", "--database", address, "--broker-port", broker!.Port.ToString(CultureInfo.InvariantCulture), .. more];
}
