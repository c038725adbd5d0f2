using Chamber.Service.Configuration;
using Chamber.Storage;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Backups;

/// <summary>What a look at the schedule came to.</summary>
/// <param name="Written">The backup that was written and read through; null when none was due.</param>
/// <param name="Removed">Older ones that made room for it.</param>
internal sealed record BackupPass(BackupReport? Written, int Removed);

/// <summary>The backups that Chamber makes by itself: once a day, named after the day, so that a missed one is made at the next
/// start.</summary>
internal sealed class ScheduledBackups(BackupSettings settings, DataDirectory data, DateTimeZone zone)
{
    /// <summary>Room that must be left beside a backup: readings matter more than copies of them.</summary>
    public const long RoomLeft = 200_000_000;

    /// <summary>Why the last one could not be made, as the ledger keeps it for those who look; nothing when it was made.</summary>
    public const string TroubleSetting = "backups.trouble";

    private const string Prefix = "daily-";
    private static readonly LocalDatePattern Day = LocalDatePattern.CreateWithInvariantCulture("uuuuMMdd");

    public string Folder { get; } = settings.Folder is { } folder ? data.Resolve(folder) : data.Backups;

    /// <summary>Days that have a backup by schedule, the newest first.</summary>
    public IReadOnlyList<LocalDate> Days => Directory.Exists(Folder)
        ? [.. Directory.EnumerateFiles(Folder, Prefix + "*.db").Select(DayOf).OfType<LocalDate>().OrderDescending()]
        : [];

    public string PathOf(LocalDate day) => Path.Combine(Folder, $"{Prefix}{Day.Format(day)}.db");

    /// <summary>The day whose backup should be there by now.</summary>
    public LocalDate Due(Instant now)
    {
        var local = now.InZone(zone).LocalDateTime;
        return local.TimeOfDay >= settings.At ? local.Date : local.Date.PlusDays(-1);
    }

    /// <summary>When the next one falls due.</summary>
    public Instant Next(Instant now) => Due(now).PlusDays(1).At(settings.At).InZoneLeniently(zone).ToInstant();

    /// <summary>Writes the backup that is due, unless it is there, reads it through, and removes what is no longer kept.</summary>
    /// <exception cref="StoreException">It could not be written, or did not hold what it should; older ones are all still
    /// there.</exception>
    /// <exception cref="IOException">There is no folder for it, or no room.</exception>
    public BackupPass Pass(ChamberStore store, Instant now)
    {
        var due = Due(now);
        if (Days is [var newest, ..] && newest >= due)
        {
            return new(null, 0);
        }

        Prepare();
        var (report, _) = HomeBackup.Write(store, data, PathOf(due));
        var surplus = BackupRotation.Surplus(Days, settings.Daily, settings.Weekly);
        foreach (var day in surplus)
        {
            File.Delete(PathOf(day));
        }

        return new(report, surplus.Count);
    }

    /// <summary>Makes Chamber's own folder. A folder that somebody named must be there: it may be a disk that is not plugged in.</summary>
    private void Prepare()
    {
        if (settings.Folder is null)
        {
            Directory.CreateDirectory(Folder);
        }

        if (!Directory.Exists(Folder))
        {
            throw new IOException($"{Folder}: the folder for backups is not there. Plug its disk in, create it, or change backups.folder.");
        }

        RequireWritable();

        var wanted = new FileInfo(data.Database).Length + RoomLeft;
        if (new DriveInfo(Folder).AvailableFreeSpace < wanted)
        {
            throw new IOException($"{Folder}: a backup would leave too little room. Make room, keep fewer (backups.daily, backups.weekly), "
                + $"or name another disk (backups.folder).");
        }
    }

    private void RequireWritable()
    {
        var trial = Path.Combine(Folder, ".chamber-writes-here");
        try
        {
            File.Create(trial).Dispose();
            File.Delete(trial);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new IOException($"{Folder}: the folder for backups may not be written ({OneLine.Of(problem.Message).TrimEnd('.')}). Let "
                + $"the user of the service write there; where systemd runs the service, also name it: systemctl edit chamber, and there "
                + $"[Service] and ReadWritePaths={Folder}", problem);
        }
    }

    private static LocalDate? DayOf(string path) =>
        Day.Parse(Path.GetFileNameWithoutExtension(path)[Prefix.Length..]) is { Success: true } day ? day.Value : null;
}
