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

    /// <summary>Puts a backup that was laid ready in its place; what was there is kept beside it. One that cannot be restored is set
    /// aside, and the home goes on with what it has.</summary>
    /// <param name="data">Where it lies.</param>
    /// <param name="trouble">Is told why it could not be restored, and the fix.</param>
    public static void RestoreIfAsked(DataDirectory data, Action<string> trouble)
    {
        if (!File.Exists(data.RestoreAtStart))
        {
            return;
        }

        try
        {
            ChamberStore.Restore(data.RestoreAtStart, data.Database);
            File.Delete(data.RestoreAtStart);
        }
        catch (StoreException problem)
        {
            var aside = data.RestoreAtStart + ".broken";
            File.Move(data.RestoreAtStart, aside, overwrite: true);
            trouble($"The backup could not be restored, so the data that were there are in use: {problem.Message} It is kept as {aside}; "
                + "restore another one (chamber restore FILE, or on the page under Set up, Data), and restart to be rid of this line.");
        }
    }
}
