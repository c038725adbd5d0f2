using System.Globalization;
using Chamber.Club.Store;
using Chamber.Club.Tests.Homes;
using Chamber.Core.Climate;
using Chamber.Storage;
using Chamber.Storage.Moving;
using Chamber.Testing;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Club.Tests.Forwarding;

/// <summary>A home's own service, a club's broker and its intake as real processes: what the home measured is in the club once, with all
/// that the home knows of it, though a broker loses what it had taken. Readings are invented.</summary>
public sealed class ForwardedHomeTests(ClubServer server) : IAsyncLifetime
{
    private const string Name = "mill-lane-4";
    private const int Chunk = 500;

    private readonly TempFolder folder = new();
    private readonly int port = FreePort.Next();
    private readonly Instant first = SystemClock.Instance.GetCurrentInstant() - Duration.FromHours(3);
    private string address = "";
    private Mosquitto? broker;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        address = await server.Address();
        broker = await Mosquitto.Start();
        (await RunningProgram.Run(SiloProcess.Club, ["home", "add", Name, "--database", address])).Succeeded();
        folder.Write("chamber.json", $$"""
            { "broker": { "listen": [{ "port": {{port}} }] }, "page": { "on": false },
              "club": { "host": "127.0.0.1", "port": {{broker.Port}}, "home": "{{Name}}", "every": "1s" } }
            """);
    }

    [Fact]
    public async Task What_the_clubs_broker_loses_the_home_sends_again()
    {
        await using var home = ChamberProcess.Start("run", "--data", folder.Path);
        await home.Line("Readings are sent to the club as mill-lane-4 at 127.0.0.1");
        await using (await SiloProcess.Intake(address, broker!))
        {
            await Measure(0);
            await Wait.Until("the first readings in the club", async () => (await InClub()).Count == Chunk ? Name : null);
        }

        await using (var seen = await broker!.Subscribe($"homes/{Name}/forwarded/#"))
        {
            await Measure(1);
            await seen.Line(line => line.StartsWith($"homes/{Name}/forwarded/", StringComparison.Ordinal), "a packet");
        }

        await broker.Stop();
        Assert.Contains("behind: ", await Ask(), StringComparison.Ordinal);
        await broker.StartAgain();
        await using var intake = await SiloProcess.Intake(address, broker);
        await Wait.Until("all readings in the club", async () => (await InClub()).Count == 2 * Chunk ? Name : null);
        Assert.Equal(AtHome(), await InClub());
        await Wait.Until("the club's word", async () =>
            (await Ask()).Contains($"The club ({Name} at 127.0.0.1) has every reading.", StringComparison.Ordinal) ? Name : null);
    }

    [Fact]
    public async Task A_packet_that_is_none_is_refused_and_told_to_be_here()
    {
        var good = ReadingLines.Write([new(new("shelf"), first, first, Temperature.FromCelsius(21))]);
        await using var intake = await SiloProcess.Intake(address, broker!);
        await using var told = await broker!.Subscribe($"confirmed/{Name}");
        foreach (var (number, packet) in new[]
        {
            ("a-1", "shelf,yesterday,today,payload,21,,,"), ("a-2", "shelf,9999-12-31T00:00:00Z,2026-12-01T00:00:00Z,payload,21,,,"),
            ("a-3", "shelf,1970-01-01T00:00:00Z,2026-12-01T00:00:00Z,payload,21,,,"), ("a-4", new string('x', 65 * 1024)),
            ("a-5", "shelf,2026-12-01T00:00:00Z,2026-12-01T00:00:00Z,payload,1e9,,,"),
        })
        {
            await broker.PublishFile($"homes/{Name}/forwarded/{number}", folder.Write("packet", packet));
        }

        await broker.PublishFile($"homes/{Name}/forwarded/a-6", folder.Write("packet", System.Text.Encoding.UTF8.GetString(good)));
        await told.Line("a-6");
        Assert.Equal(Enumerable.Range(1, 6).Select(number => $"a-{number}"),
            told.Output.Split(' ', '\n').Where(word => word.StartsWith("a-", StringComparison.Ordinal)).Order(StringComparer.Ordinal));
        Assert.Equal([21], (await InClub()).Select(reading => reading.Temperature!.Value.Celsius));
        await using var source = Npgsql.NpgsqlDataSource.Create(address);
        await using var session = await HomeSession.BeginAsync(source, HomeSession.IntakeRole, null, Stop);
        Assert.Equal(["BadTime", "FutureTime", "Malformed", "Malformed", "TooLarge"],
            await session.RowsAsync("SELECT reason FROM refusal ORDER BY reason", row => row.GetString(0)));
    }

    public async ValueTask DisposeAsync()
    {
        await broker!.DisposeAsync();
        folder.Dispose();
    }

    private async Task<string> Ask() => (await ChamberProcess.Run("club", "--data", folder.Path)).Succeeded();

    private async Task Measure(int chunk)
    {
        var lines = Enumerable.Range(chunk * Chunk, Chunk).Select(number => string.Create(CultureInfo.InvariantCulture,
            $"{{\"temperature\": {15 + number % 1000 / 100.0}, \"humidity\": 61.25, \"at\": \"{At(number)}\"}}"));
        (await RunningProgram.Run("mosquitto_pub",
            ["-h", "127.0.0.1", "-p", port.ToString(CultureInfo.InvariantCulture), "-q", "1", "-l", "-t", "chamber/shelf/reading"],
            string.Join('\n', lines) + "\n")).Succeeded();
    }

    private string At(int number) => InstantPattern.ExtendedIso.Format(first + Duration.FromSeconds(number));

    private List<Reading> AtHome()
    {
        using var store = ChamberStore.Open(folder.File("chamber.db"), new() { ReadOnly = true });
        return [.. store.Journal.Read(new("shelf"), new(null, null))];
    }

    private async Task<List<Reading>> InClub()
    {
        await using var club = ClubDatabase.Open(address);
        var kept = new List<Reading>();
        var store = club.Home(await club.RequireAsync(Name, Stop));
        await foreach (var reading in store.ReadingsAsync(new("shelf"), new(null, null), Stop))
        {
            kept.Add(reading);
        }

        return kept;
    }
}
