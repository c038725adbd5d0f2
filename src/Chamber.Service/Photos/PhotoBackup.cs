using Chamber.Service.Configuration;

namespace Chamber.Service.Photos;

/// <summary>
/// Photos in backups: one folder beside them holds those of all, each once, since what has its name never changes.
/// </summary>
internal static class PhotoBackup
{
    private const string Folder = "photos";

    /// <summary>Copies what the folder beside a backup lacks.</summary>
    /// <returns>How many photos.</returns>
    public static int Write(DataDirectory data, string backup) => new PhotoFiles(data).CopyTo(Beside(backup));

    /// <summary>Copies back what the home lacks.</summary>
    /// <returns>How many photos.</returns>
    public static int Restore(DataDirectory data, string backup) => new PhotoFiles(Beside(backup)).CopyTo(data.Photos);

    private static string Beside(string backup) => Path.Combine(Path.GetDirectoryName(Path.GetFullPath(backup))!, Folder);
}
