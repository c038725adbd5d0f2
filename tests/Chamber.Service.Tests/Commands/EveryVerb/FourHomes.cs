using Chamber.Core.Climate;
using Chamber.Service.Commands;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Configuration;
using Chamber.Service.Demo;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Commands.EveryVerb;

/// <summary>
/// Four homes to ask everything of: nothing in it, one probe, the demo after its fortnight, and thirty spots with long names. All of it is
/// invented.
/// </summary>
public sealed class FourHomes : IAsyncLifetime
{
    /// <summary>Each home with the names that lines use for SPOT, BATCH, LOT and PROBE there.</summary>
    internal static readonly (string Home, string Spot, string Batch, string Lot, string Probe)[] Names =
    [
        ("empty", "sill", "T1", "tomato-24", "p1"),
        ("one", "shelf", "T1", "tomato-24", "shelf-air"),
        ("demo", "boiler-cupboard", "O1", "tomato-own", "boiler-mix"),
        ("thirty", "boiler-cupboard-upstairs-1", "T1", "tomato-of-the-neighbours-1", "kitchen-thermometer-1"),
    ];

    private static readonly Instant Now = Instant.FromUtc(2027, 3, 2, 12, 30);
    private readonly TempFolder folder = new();
    private readonly Dictionary<string, FakeTimeProvider> clocks = [];

    public async ValueTask InitializeAsync()
    {
        foreach (var (home, _, _, _, _) in Names)
        {
            clocks[home] = new(Now.ToDateTimeOffset());
        }

        var data = new DataDirectory(folder.File("demo"));
        var settings = new Settings { Mappings = DemoMessages.Mappings };
        DemoHome.Write(data, settings);
        new DemoHome(data, settings, Now, DateTimeZone.Utc, seed: 1)
            .Furnish(_ => { }, CancellationToken.None);
        Directory.CreateDirectory(folder.File("empty"));
        await Do("one", "spot add shelf", "probe add shelf-air --spot shelf",
            "lot add tomato-24 --crop tomato --seeds 1 --year 2024 --price 1", "read shelf 20C",
            "sow tomato --seeds 1 --spot shelf --lot tomato-24 --name T1 --when 2027-03-01", "look T1 1");
        await MakeThirty();
    }

    public ValueTask DisposeAsync()
    {
        folder.Dispose();
        return ValueTask.CompletedTask;
    }

    /// <summary>Runs a line with the names of a home filled in, on a copy of the home where it writes.</summary>
    internal async Task<Outcome> Run(string home, string line, int columns = 120)
    {
        var (_, spot, batch, lot, probe) = Names.First(one => one.Home == home);
        string[] words = [.. DocumentedLines.Words(line).Select(word => word.Replace("SPOT", spot, StringComparison.Ordinal)
            .Replace("BATCH", batch, StringComparison.Ordinal).Replace("LOT", lot, StringComparison.Ordinal)
            .Replace("PROBE", probe, StringComparison.Ordinal).Replace("FOLDER", folder.Path, StringComparison.Ordinal))];
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        using var input = new StringReader("a password\n");
        var width = columns.ToString(System.Globalization.CultureInfo.InvariantCulture);
        var context = new CommandContext(output, error, clocks[home], name => name == "COLUMNS" ? width : null, IsTerminal: false)
        { In = input };
        var code = await CommandLine.Run([.. words, "--data", folder.File(home)], context);
        return new(code, output.ToString(), error.ToString());
    }

    /// <summary>Runs lines and puts the data file back as it was.</summary>
    internal async Task Undone(string home, Func<Task> lines)
    {
        var (file, kept) = (Path.Combine(folder.File(home), "chamber.db"), folder.File("kept.db"));
        File.Copy(file, kept, overwrite: true);
        await lines();
        foreach (var beside in (string[])["-wal", "-shm"])
        {
            File.Delete(file + beside);
        }

        File.Copy(kept, file, overwrite: true);
    }

    internal string Write(string name, string text) => folder.Write(name, text);

    private async Task MakeThirty()
    {
        string[] kinds = ["shelf", "cupboard", "boiler-cupboard --light dark", "heat-mat", "appliance-top", "sill --light bright"];
        string[] crops = ["tomato", "basil", "lettuce", "pepper-sweet", "okra"];
        var spots = Enumerable.Range(1, 30).Select(n =>
            $"spot add boiler-cupboard-upstairs-{n} --kind {kinds[n % kinds.Length]} --room {1 + n % 3}");
        var lines = Enumerable.Range(1, 30).SelectMany(n => (string[])
        [
            $"probe add kitchen-thermometer-{n} --measures {(n % 2 == 0 ? "media" : "air")}",
            $"probe move kitchen-thermometer-{n} boiler-cupboard-upstairs-{n} --when 2027-02-10",
            $"lot add tomato-of-the-neighbours-{n} --crop {crops[n % 5]} --seeds {n * 7} --year {2020 + n % 7} --price {n % 4}.15 "
                + "--variety Early-of-the-valley",
            $"sow {crops[n % 5]} --seeds {5 + n % 9} --spot boiler-cupboard-upstairs-{1 + n % 25} --lot tomato-of-the-neighbours-{n} "
                + $"--name T{n} --when 2027-02-{10 + n % 15}",
            $"look T{n} {n % 4} --when 2027-02-27",
        ]);
        await Do("thirty", [.. spots, .. lines]);
        using var store = ChamberStore.Open(Path.Combine(folder.File("thirty"), "chamber.db"));
        foreach (var n in Enumerable.Range(1, 30))
        {
            store.Journal.Append([.. Enumerable.Range(0, 12 * 24).Select(hour => Now - Duration.FromHours(hour))
                .Select(at => new Reading(new($"kitchen-thermometer-{n}"), at, at,
                    Temperature.FromCelsius(14 + n * 0.8 + Math.Sin(at.ToUnixTimeSeconds() / 86400.0 * Math.Tau))))], []);
        }
    }

    private async Task Do(string home, params string[] lines)
    {
        foreach (var line in lines)
        {
            var outcome = await Run(home, line);
            Assert.True(outcome.Code == 0, $"{line}: {outcome.Error}");
        }
    }
}
