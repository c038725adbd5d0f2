using System.Globalization;
using Chamber.Service.Backups;
using Chamber.Service.Configuration;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Checks;

/// <summary>Looks at the data file, its disk and its backups.</summary>
internal static class DataFindings
{
    /// <summary>Under so much room readings are in danger.</summary>
    public const long RoomMin = 200_000_000;

    private const int BackupDaysMax = 2;

    /// <summary>Whether the data file is whole: read through as a backup is, or only opened.</summary>
    public static Finding File(DataDirectory data, bool quick)
    {
        if (!System.IO.File.Exists(data.Database))
        {
            return Finding.Note("data file", $"{data.Database} is not there yet", "it is made at the first start: chamber run");
        }

        try
        {
            if (quick)
            {
                using var store = ChamberStore.Open(data.Database, new() { ReadOnly = true });
                var (readings, rolled) = store.Journal.Size();
                return Finding.Fine("data file",
                    string.Create(CultureInfo.InvariantCulture,
                    $"{data.Database}: {CountText.Of(readings, "reading")}, {rolled:#,0} summed up"));
            }

            var report = ChamberStore.Verify(data.Database);
            return Finding.Fine("data file", string.Create(
                CultureInfo.InvariantCulture,
                $"whole; version {report.Version}, {report.Bytes / 1e6:0.0} MB, {CountText.Of(report.Counts.Readings, "reading")} and "
                    + $"{report.Counts.Rolled:#,0} summed up, {CountText.Of(report.Counts.Batches, "batch", "batches")}, "
                    + $"{CountText.Of(report.Counts.Lots, "lot")}"));
        }
        catch (StoreException problem)
        {
            return Finding.Wrong("data file", problem.Fault == StoreFault.Corrupt ? $"{data.Database} is damaged" : problem.Message,
                Fix(problem));
        }
    }

    public static Finding Disk(DataDirectory data)
    {
        var room = new DriveInfo(Existing(data.Path)).AvailableFreeSpace;
        return room >= RoomMin
            ? Finding.Fine("disk", string.Create(CultureInfo.InvariantCulture, $"{room / 1e9:0.0} GB free"))
            : Finding.Wrong("disk", string.Create(CultureInfo.InvariantCulture, $"{room / 1e6:0} MB free where {data.Path} is"),
                "make room, or name another directory with --data");
    }

    /// <summary>Whether there is a young backup and, unless <paramref name="quick"/>, whether it would bring everything back.</summary>
    /// <param name="settings">The settings in force.</param>
    /// <param name="data">Whose backups.</param>
    /// <param name="zone">The home's zone.</param>
    /// <param name="now">The time.</param>
    /// <param name="quick">Whether to leave it at looking for it.</param>
    /// <param name="trouble">Why the last one by schedule could not be made, with the fix; null when it was made.</param>
    public static Finding Backups(Settings settings, DataDirectory data, DateTimeZone zone, Instant now, bool quick, string? trouble)
    {
        var backups = new ScheduledBackups(settings.Backups, data, zone);
        if (!Directory.Exists(backups.Folder) && settings.Backups is { On: true, Folder: not null })
        {
            return Finding.Wrong("backups", $"{backups.Folder} is not there", "plug its disk in, create it, or change backups.folder");
        }

        if (trouble is not null && settings.Backups.On)
        {
            return Finding.Wrong("backups", $"the last one by schedule could not be made: {trouble}");
        }

        if (Newest(backups.Folder) is not { } newest)
        {
            return Finding.Note("backups", "there is none yet", settings.Backups.On
                ? "the service makes one within minutes of its start; now: chamber backup" : "chamber backup, or set backups.on to true");
        }

        var age = now - Instant.FromDateTimeUtc(newest.LastWriteTimeUtc);
        return (quick ? null : Whole(newest, age)) ?? (age.TotalDays > BackupDaysMax
            ? new("backups", settings.Backups.On ? FindingState.Wrong : FindingState.Note,
                $"the newest, {newest.Name}, is {age.Days} days old", "chamber backup; the log says why the one by schedule failed")
            : Finding.Fine("backups", quick ? $"the newest is {newest.Name}" : $"{newest.Name} is whole"));
    }

    /// <summary>Files that were kept for a way back and that nobody needs for ever.</summary>
    public static IEnumerable<Finding> KeptAside(DataDirectory data)
    {
        var kept = Directory.Exists(data.Path)
            ? new DirectoryInfo(data.Path).GetFiles("chamber.db.*")
                .Where(file => file.Name.Contains(".version-", StringComparison.Ordinal)
                || file.Name.EndsWith(".replaced", StringComparison.Ordinal)).ToList()
            : [];
        return kept.Count == 0
            ? []
            : [Finding.Note(
                "kept aside",
                string.Create(CultureInfo.InvariantCulture,
                    $"{string.Join(", ", kept.Select(file => file.Name).Order(StringComparer.Ordinal))} "
                    + $"({kept.Sum(file => file.Length) / 1e6:0.0} MB): from before an update or a restore"),
                "remove when you are content with what is there now")];
    }

    private static Finding? Whole(FileInfo backup, Duration age)
    {
        try
        {
            ChamberStore.Verify(backup.FullName);
            return null;
        }
        catch (StoreException problem)
        {
            return Finding.Wrong("backups", $"the newest, {backup.Name}, {age.Days} days old, cannot be restored: {problem.Message}",
                "chamber backup, and look at the disk it is on");
        }
    }

    private static FileInfo? Newest(string folder) => Directory.Exists(folder)
        ? new DirectoryInfo(folder).EnumerateFiles("*.db").OrderByDescending(file => file.LastWriteTimeUtc).FirstOrDefault()
        : null;

    private static string? Fix(StoreException problem) => problem.Fault == StoreFault.Corrupt
        ? "stop the service and bring the newest backup back: chamber restore FILE"
        : null;

    private static string Existing(string path) => Directory.Exists(path) ? path : Existing(Path.GetDirectoryName(path) ?? "/");
}
