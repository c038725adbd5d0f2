using Chamber.Service.Configuration;
using Chamber.Service.Photos;
using Chamber.Storage;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Home.Writing;

/// <summary>Backups in the data directory, and bringing one back.</summary>
internal static class Safekeeping
{
    private static readonly LocalDateTimePattern Stamp = LocalDateTimePattern.CreateWithInvariantCulture("uuuuMMdd'-'HHmmss");

    /// <summary>Where the next backup goes.</summary>
    public static string Next(DataDirectory data, LocalDateTime now)
    {
        Directory.CreateDirectory(data.Backups);
        return Path.Combine(data.Backups, $"chamber-{Stamp.Format(now)}.db");
    }

    /// <summary>What there is, the newest first.</summary>
    public static IReadOnlyList<FileInfo> All(DataDirectory data) => Directory.Exists(data.Backups)
        ? [.. new DirectoryInfo(data.Backups).EnumerateFiles("*.db").OrderByDescending(file => file.LastWriteTimeUtc)]
        : [];

    /// <summary>A backup by its name alone, so that no path leads out of the folder.</summary>
    public static FileInfo? Find(DataDirectory data, string name) => All(data).FirstOrDefault(file => file.Name == name);

    /// <summary>Reads a backup through and lays it ready: it takes the database's place when the service starts next, which nobody then has
    /// open.</summary>
    /// <exception cref="StoreException">It is damaged; nothing was laid ready.</exception>
    public static BackupReport RestoreAtStart(DataDirectory data, FileInfo backup)
    {
        var report = ChamberStore.Verify(backup.FullName);
        var fresh = data.RestoreAtStart + ".new";
        backup.CopyTo(fresh, overwrite: true);
        File.Move(fresh, data.RestoreAtStart, overwrite: true);
        PhotoBackup.Restore(data, backup.FullName);
        return report;
    }

    /// <summary>A backup that was laid ready is not restored.</summary>
    public static void Leave(DataDirectory data) => File.Delete(data.RestoreAtStart);

    /// <summary>Puts a backup that was laid ready in its place; what was there is kept beside it.</summary>
    /// <exception cref="BadInputException">It could not be; the message gives the fix.</exception>
    public static void RestoreIfAsked(DataDirectory data)
    {
        if (!File.Exists(data.RestoreAtStart))
        {
            return;
        }

        try
        {
            ChamberStore.Restore(data.RestoreAtStart, data.Database);
        }
        catch (StoreException problem)
        {
            throw new BadInputException(
                $"{data.RestoreAtStart} could not be restored: {problem.Message} Delete it to start with the present data.", problem);
        }

        File.Delete(data.RestoreAtStart);
    }
}
