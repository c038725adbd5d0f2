using Chamber.Service.Configuration;
using Chamber.Service.Photos;
using Chamber.Storage;

namespace Chamber.Service.Backups;

/// <summary>A backup with all that belongs into it, whoever asks for one.</summary>
internal static class HomeBackup
{
    /// <summary>Writes the database, reads it through, and copies the photos that the folder beside it lacks.</summary>
    /// <returns>What was written, and how many photos are new there.</returns>
    /// <exception cref="StoreException">It could not be written, or did not hold what it should.</exception>
    /// <exception cref="BadInputException">The database is written, and the photos cannot be.</exception>
    public static (BackupReport Report, int Photos) Write(ChamberStore store, DataDirectory data, string path)
    {
        var (report, photos) = (store.BackUp(path), 0);
        OutputFiles.Write($"{path} is complete, but the photos beside it are not", () => photos = PhotoBackup.Write(data, path));
        return (report, photos);
    }
}
