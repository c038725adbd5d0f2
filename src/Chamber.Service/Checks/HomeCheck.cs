using System.Globalization;
using Chamber.Service.Backups;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Checks;

/// <summary>Looks at everything that can be wrong with a home's installation. Changes nothing, and goes on where something is
/// broken.</summary>
/// <param name="data">The data directory.</param>
/// <param name="environment">The environment, which may override settings.</param>
/// <param name="clock">The home's clock.</param>
internal sealed class HomeCheck(DataDirectory data, IEnumerable<KeyValuePair<string, string>> environment, TimeProvider clock)
{
    private static readonly Duration Silence = Duration.FromHours(12);

    private readonly Instant now = Instant.FromDateTimeOffset(clock.GetUtcNow());

    /// <summary>Opens the data file and the newest backup without reading them through.</summary>
    public bool Quick { get; init; }

    public async Task<IReadOnlyList<Finding>> Look(CancellationToken cancel)
    {
        var (settings, configuration) = Configuration();
        var zone = settings.Zone;
        var file = DataFindings.File(data, Quick);
        var findings = new List<Finding> { configuration, file };
        string? backupTrouble = null;
        if (File.Exists(data.Database) && file.Good)
        {
            findings.AddRange(Stored(settings, zone, ref backupTrouble));
        }

        findings.AddRange(Optional(ClockFindings.Kept()));
        findings.Add(DataFindings.Disk(data));
        findings.AddRange(AccessFindings.All(settings, data));
        findings.AddRange(DataFindings.KeptAside(data));
        findings.Add(DataFindings.Backups(settings, data, zone, now, Quick, backupTrouble));
        findings.AddRange(await BrokerFindings.Broker(settings, data, cancel));
        findings.AddRange(await MirrorFindings.All(settings, data, cancel));
        findings.AddRange(await ClubFindings.All(settings, data, clock, cancel));
        return findings;
    }

    private static IEnumerable<Finding> Optional(Finding? finding) => finding is null ? [] : [finding];

    private (Settings Settings, Finding Finding) Configuration()
    {
        try
        {
            var settings = SettingsFile.Load(data, environment);
            return (settings, Finding.Fine("settings", File.Exists(data.Settings) ? data.Settings : "the defaults are in force"));
        }
        catch (BadInputException problem)
        {
            return (new(),
                Finding.Wrong("settings", problem.Message, "until then the defaults are looked at here, and the service does not start"));
        }
    }

    private IEnumerable<Finding> Stored(Settings settings, DateTimeZone zone, ref string? backupTrouble)
    {
        ChamberStore store;
        try
        {
            store = ChamberStore.Open(data.Database, new() { ReadOnly = true });
        }
        catch (StoreException problem)
        {
            return [Finding.Note("data file", problem.Message, problem.Fix)];
        }

        using (store)
        {
            backupTrouble = store.Ledger.Settings.Get(ScheduledBackups.TroubleSetting);
            return [Crops(store), .. Prices(store, settings), .. Readings(store, zone),
                new NoticeFindings(settings, data, store, clock, at => Show(at, zone)).Find(), LeftOut(store, Quick), Facts(store)];
        }
    }

    private static Finding LeftOut(ChamberStore store, bool quick) =>
        (quick ? store.FindLeftOut() : store.FindAllLeftOut()) is { Count: > 0 } lines
        ? Finding.Wrong("bounds", string.Join(' ', lines))
        : Finding.Fine("bounds", "everything that is recorded lies within them");

    private static Finding Facts(ChamberStore store)
    {
        try
        {
            return store.Facts.TableDifferences() is { Count: > 0 } differences
                ? Finding.Wrong(
                    "facts",
                    "the data file has these otherwise than the facts have it: "
                        + string.Join(", ", differences.Select(one => $"{Choice.Word(one.Kind)} {one}")),
                    "restart the service, which writes them again from the facts")
                : Finding.Fine("facts", $"{CountText.Of(store.Facts.Last, "entry", "entries")}, and the data file agrees with them");
        }
        catch (StoreException problem)
        {
            return Finding.Wrong("facts", problem.Message);
        }
    }

    private static IEnumerable<Finding> Prices(ChamberStore store, Settings settings) =>
        HomeWarnings.OfPrices(store.Ledger.SetUp.Spots(), settings.Prices).Select(line =>
            Finding.Note("prices", line, "write the name as chamber spots has it, or remove the line from chamber.json"));

    private Finding Crops(ChamberStore store)
    {
        try
        {
            var catalog = CropFile.Catalog(data, store.Facts.Home().Crops, store.LeaveOut);
            return Finding.Fine("crops", string.Create(CultureInfo.InvariantCulture, $"{catalog.Crops.Count} crops"));
        }
        catch (Exception problem) when (problem is BadInputException or FormatException)
        {
            return Finding.Wrong("crops", problem.Message);
        }
    }

    private IEnumerable<Finding> Readings(ChamberStore store, DateTimeZone zone)
    {
        // Those too that lie ahead: by them a clock that was put back shows.
        var latest = store.Journal.Latest(Instant.MaxValue);
        Instant? newest = latest.Count == 0 ? null : latest.Max(reading => reading.ReceivedAt);
        yield return ClockFindings.Clock(newest, now, zone, at => Show(at, zone));
        yield return newest switch
        {
            null => Finding.Note("readings", "none has arrived yet",
                "connect a sensor (docs/topics.md), or record a thermometer: chamber read SPOT 23.5C"),
            { } last when now - last > Silence =>
                Finding.Note("readings", $"the last arrived {Show(last, zone)}",
                "look whether the service runs and the sensors have power: chamber probes"),
            { } last => Finding.Fine("readings",
                $"{latest.Count} {(latest.Count == 1 ? "probe has" : "probes have")} spoken, the last {Show(last, zone)}"),
        };
    }

    private string Show(Instant at, DateTimeZone zone) => TimeText.Show(at, zone, now);
}
