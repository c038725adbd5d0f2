using Chamber.Core.Alerts;
using Chamber.Core.Climate;
using Chamber.Service.Tests.Notify;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Commands;

/// <summary>
/// The home that documents speak of, with the names that they use: made by command lines as documents show them, and by what sensors
/// and a running service would have written. With a real mail server, a real receiver and a real server for the mirror
/// and a real broker of a club.
/// </summary>
internal sealed class DocumentedHome : IAsyncDisposable
{
    private static readonly DateTimeOffset Today = new(2027, 3, 1, 8, 0, 0, TimeSpan.Zero);

    // Sown on different days, so that some are up and one is waited for.
    private static readonly string[] Lines =
    [
        "spot add boiler-top --kind boiler-cupboard --light dark --room 3",
        "spot add shelf --room 4",
        "spot add sill --kind sill --light bright --room 6",
        "spot add mat --kind heat-mat --room 2",
        "probe add kitchen-1 --measures media",
        "probe add shelf-1",
        "probe add soil-1 --measures media",
        "probe add mat-mix --measures media",
        "probe add kitchen",
        "probe add box-air",
        "probe move kitchen-1 boiler-top --when 2027-02-08",
        "probe move shelf-1 shelf --when 2027-02-08",
        "probe move mat-mix mat --when 2027-02-08",
        "lot add tomato-24 --crop tomato --seeds 90 --year 2024 --price 1.85 --storage cool-room",
        "lot add tomato-25 --crop tomato --seeds 60 --year 2025",
        "sow tomato --seeds 12 --spot mat --name T1 --when 2027-02-10",
        "sow basil --seeds 12 --spot shelf --name T2 --when 2027-02-10",
        "sow tomato --seeds 12 --spot boiler-top --name T3 --when 2027-02-12",
        "sow lettuce --seeds 12 --spot shelf --name T4 --when 2027-02-20",
        "sow pepper-sweet --seeds 12 --spot boiler-top --name T5 --when 2027-02-20",
        "sow tomato --seeds 12 --spot boiler-top --name T6 --when 2027-02-24",
        "test start tomato-25 --spot shelf --seeds 20 --when 2027-02-20",
        "calibrate offset shelf-1 --against kitchen",
        "lot add bean-shop --crop \"snap bean\" --seeds 50 --year 2024",
        "maintenance boiler-top 3h",
        "look T4 3 --when 2027-02-25",
        "look T1 5 --when 2027-02-17",
        "look T1 9 --when 2027-02-20",
        "look T2 6 --when 2027-02-20",
        "look T2 10 --when 2027-02-24",
        "broker-user add mat-probe",
        "tokens add \"shelf display\"",
        "backup backups/chamber-20260301-074000.db",
    ];

    private static readonly string[] LinesAfterwards =
    [
        "look T3 4 --when 2027-02-20",
        "look T3 10 --when 2027-02-23",
    ];

    private readonly TempFolder folder = new();
    private readonly MailServer mail = MailServer.Start();
    private readonly Dictionary<string, FakeTimeProvider> clocks = [];
    private readonly VictoriaMetrics history;
    private readonly HttpPeer peer;
    private readonly Mosquitto club;
    private string token = "";

    private DocumentedHome(VictoriaMetrics history, HttpPeer peer, Mosquitto club) =>
        (this.history, this.peer, this.club) = (history, peer, club);

    public static async Task<DocumentedHome> Make()
    {
        var home = new DocumentedHome(await VictoriaMetrics.Start(), await HttpPeer.StartAsync(), await Mosquitto.Start());
        home.WriteFiles();
        home.Hear();
        await home.Do("start", Lines);
        home.token = (await home.Answer("start", "tokens", "--json")).Out.Split('"').SkipWhile(word => word != "token").ElementAt(2);
        File.SetLastWriteTimeUtc(home.folder.File("start/backups/chamber-20260301-074000.db"), Today.UtcDateTime);
        home.Happen();
        home.Copy("start", "home");
        await home.Do("home", LinesAfterwards);
        return home;
    }

    /// <summary>A copy of the home for a page, or for a line alone. Before T3 came up, where that is asked for.</summary>
    public string Fresh(string name, bool beforeLooks = false)
    {
        Copy(beforeLooks ? "start" : "home", name);
        return name;
    }

    /// <summary>Runs a line as it stands: only files lie in this test's folder, and what a reader would do or fill in first is
    /// done.</summary>
    public Task<Outcome> Run(string home, string line)
    {
        string[] words = [.. DocumentedLines.Words(line).Select(Filled)];
        if (words is ["calibrate", "offset" or "ice" or "salt" or "dry" or "saturated", ..] && !words.Contains("--from"))
        {
            PutProbe(home, words[1], words[2], words.SkipWhile(word => word != "--against").ElementAtOrDefault(1));
        }

        if (line.Contains("--layout", StringComparison.Ordinal))
        {
            folder.Write(Path.Combine(home, "log.csv"), "at,probe,temperature\n2027-02-01T07:00:00Z,mat,21.5\n");
        }

        if (line.Contains("=Zeit", StringComparison.Ordinal))
        {
            folder.Write(Path.Combine(home, "log.csv"), "Zeit;Temp\n01.02.2027 07:00;21,5\n01.02.2027 07:10;21,6\n");
        }

        return Answer(home, [.. FilesIn(home, words)]);
    }

    public async ValueTask DisposeAsync()
    {
        await history.DisposeAsync();
        await peer.DisposeAsync();
        await club.DisposeAsync();
        await mail.DisposeAsync();
        folder.Dispose();
    }

    private async Task Do(string home, IEnumerable<string> lines)
    {
        foreach (var line in lines)
        {
            var outcome = await Run(home, line);
            Assert.True(outcome.Code == 0, $"{line}: {outcome.Error}");
        }
    }

    private async Task<Outcome> Answer(string home, params string[] words)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        using var input = new StringReader("a password\n");
        var around = new Service.Commands.Terminal.CommandContext(output, error, Clock(home), _ => null, IsTerminal: false) { In = input };
        var code = await Service.Commands.CommandLine.Run([.. words, "--data", folder.File(home)], around);
        return new(code, output.ToString(), error.ToString());
    }

    private string Filled(string word) => word switch
    {
        "K7QD" or "TOKEN" => token,
        "NAME" or "SPOT" => "shelf",
        "PROGRAM" => "a display",
        "DIR" => "dir",
        "FILE..." => "mat.watch",
        "FILE" => "backups/chamber-20260301-074000.db",
        _ => word,
    };

    // A shell would also put the names of files in the place of a star.
    private IEnumerable<string> FilesIn(string home, IEnumerable<string> line)
    {
        var words = line.ToList();
        var made = words is ["boards", ..] ? 1 : words is ["demo", "record", ..] ? 2 : -1;
        return words.SelectMany((word, index) => word.Contains('*', StringComparison.Ordinal) ? Directory.GetFiles(folder.File(home), word)
            : index == made || (index > 0 && words[index - 1] == "--out") || IsFile(word)
                ? [folder.File(Path.Combine(home, word.TrimStart('/')))]
            : [word]);
    }

    private static bool IsFile(string word) =>
        !word.StartsWith("http", StringComparison.Ordinal)
            && Path.GetExtension(word) is ".csv" or ".json" or ".png" or ".jpg" or ".pdf" or ".svg" or ".ics" or ".db" or ".watch"
                or ".html";

    private void WriteFiles()
    {
        folder.Write("start/chamber.json", $$"""
            {
              "home": { "zone": "UTC" }, "broker": { "listen": [{ "port": {{FreePort.Next()}} }] }, "page": { "port": {{FreePort.Next()}} },
              "notices": {
                "email": { "host": "127.0.0.1", "port": {{mail.Port}}, "security": "whenOffered", "from": "chamber@example.org", "to": ["grower@example.org"] },
                "webhook": { "url": "{{peer.Url}}" }
              },
              "mirror": { "url": "{{history.Url}}" },
              "club": { "host": "127.0.0.1", "port": {{club.Port}}, "home": "mill-lane-4" }
            }
            """);
        var trace = "at,temperature\n" + string.Join('\n', Enumerable.Range(0, 480).Select(hour =>
            FormattableString.Invariant($"{Today.AddHours(-500 + hour):yyyy-MM-ddTHH:mm:ssZ},{24 + (hour % 24 / 6.0):0.0}")));
        folder.Write("start/shelf.csv", trace);
        folder.Write("start/theirs.json", """
            { "format": "chamber experience", "version": 1, "homes": [ { "home": "8c1f0a5be2d94c07b6a1f3d2975e4c10", "batches": [
              { "crop": "tomato", "halfWarmHours": 1732, "baseCelsius": 11.8, "method": "coveredMix", "shift": -0.12, "doubt": 0.07 }
            ] } ] }
            """);
        folder.Write("start/log.csv", trace);
        folder.Write("start/sowings.csv", "batch,sown,crop,seeds,counted,up\nA1,2026-02-10,tomato,12,2026-02-16,4\n");
        var trials = "temperature,from,to,count\n"
            + string.Join('\n', new[] { (12, 16, 22), (16, 9, 13), (20, 6, 9), (24, 5, 7), (28, 4, 6), (32, 4, 7) }
            .Select(trial => FormattableString.Invariant(
                $"{trial.Item1},0,{trial.Item2},0\n{trial.Item1},{trial.Item2},{trial.Item3},40\n{trial.Item1},{trial.Item3},,10")));
        folder.Write("start/my-tomato.csv", trials);
        folder.Write("start/my.csv", trials);
        File.WriteAllBytes(folder.File("start/tray.jpg"), SomePhoto.Jpeg(640, 480, SkiaSharp.SKColors.SaddleBrown));
        folder.Write("start/mat.watch", File.ReadAllText(SourceTree.Path("tests", "cases", "watch", "drifting.watch")));
        Directory.CreateDirectory(folder.File("start/backups"));
        folder.Write("start/media/stick/README", "An empty stick.");
        folder.Write("start/logger.json",
            """{ "columns": { "at": "at", "temperature": "temperature", "probe": "probe" }, "units": { "temperature": "C" } }""");
    }

    private FakeTimeProvider Clock(string home)
    {
        if (!clocks.TryGetValue(home, out var clock))
        {
            clocks[home] = clock = new(Today);
        }

        return clock;
    }

    /// <summary>What the sensors have said for thirty days.</summary>
    private void Hear()
    {
        foreach (var (probe, celsius) in new[] { ("kitchen-1", 25.5), ("shelf-1", 21.6), ("soil-1", 19), ("mat-mix", 27), ("kitchen", 21),
            ("box-air", 20) })
        {
            Say("start", probe, 30 * 24, at => celsius + Math.Sin(at.ToUnixTimeSeconds() / 86400.0 * Math.Tau) / 2);
        }
    }

    /// <summary>Puts a probe where it has to be for a calibration, and lets it settle there.</summary>
    private void PutProbe(string home, string way, string probe, string? other)
    {
        Clock(home).Advance(TimeSpan.FromHours(14));
        switch (way)
        {
            case "offset":
                Say(home, probe, 14, _ => 21.4);
                Say(home, other!, 14, _ => 21);
                break;
            case "ice":
                Say(home, probe, 1, _ => 0.3);
                break;
            case "salt":
                Say(home, probe, 3, _ => 20, humidity: 78);
                break;
            default:
                Say(home, probe, 1, _ => 20, moisture: way == "dry" ? 812 : 350);
                break;
        }
    }

    private void Say(string home, string probe, int hours, Func<Instant, double> celsius, double? humidity = null, double? moisture = null)
    {
        var now = Instant.FromDateTimeOffset(Clock(home).GetUtcNow());
        using var store = ChamberStore.Open(folder.File(Path.Combine(home, "chamber.db")));
        store.Journal.Append([.. from step in Enumerable.Range(1, hours * 15)
            let at = now - Duration.FromMinutes(4 * step)
            select new Reading(new(probe), at, at, Temperature.FromCelsius(celsius(at)),
                humidity is { } percent ? RelativeHumidity.FromPercent(percent) : null, moisture, 90)], []);
    }

    /// <summary>What a running service would have written: alerts, and notices that could not be sent.</summary>
    private void Happen()
    {
        var now = Instant.FromDateTimeOffset(Today);
        using var store = ChamberStore.Open(folder.File("start/chamber.db"));
        foreach (var probe in new[] { "kitchen-1", "shelf-1", "soil-1", "mat-mix" })
        {
            store.Ledger.Alerts.Save(new AlertEntry(0, AlertKind.WeakBattery, new(SubjectKind.Probe, probe), Severity.Note, now, now,
                "{}"));
        }

        for (var number = 1; number <= 12; number++)
        {
            store.Ledger.Notices.Add("email", $"alert-{number}-opened",
                System.Text.Json.JsonSerializer.Serialize(
                Service.Notify.NoticePayload.From(SampleNotice.TooHot with { Id = $"alert-{number}-opened" })), now);
            store.Ledger.Notices.Failed(number, "The mail server was away for too long.", nextAt: null);
        }
    }

    private void Copy(string from, string to)
    {
        foreach (var file in Directory.EnumerateFiles(folder.File(from), "*", SearchOption.AllDirectories))
        {
            var target = Path.Combine(folder.File(to), Path.GetRelativePath(folder.File(from), file));
            Directory.CreateDirectory(Path.GetDirectoryName(target)!);
            File.Copy(file, target, overwrite: true);
        }

        clocks[to] = new(Clock(from).GetUtcNow());
    }
}
