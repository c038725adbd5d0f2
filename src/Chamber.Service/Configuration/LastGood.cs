namespace Chamber.Service.Configuration;

/// <summary>
/// The last good copy of a file that people edit, in the folder <c>last-good</c> of the data directory: what a running service falls back
/// on when an edit broke the file, or a power cut emptied it.
/// </summary>
internal static class LastGood
{
    /// <summary>Keeps what a file holds, which was found good. A copy that cannot be written is none.</summary>
    public static void Keep(DataDirectory data, string path)
    {
        try
        {
            if (!File.Exists(path))
            {
                File.Delete(CopyOf(data, path));
                return;
            }

            var text = File.ReadAllText(path);
            if (Read(data, path) != text)
            {
                Directory.CreateDirectory(Path.GetDirectoryName(CopyOf(data, path))!);
                WholeFile.Write(CopyOf(data, path), text, ownerOnly: true);
            }
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            // It was only for the day on which the file is broken.
        }
    }

    /// <summary>What the last good copy holds; null when there is none.</summary>
    public static string? Read(DataDirectory data, string path)
    {
        try
        {
            return File.Exists(CopyOf(data, path)) ? File.ReadAllText(CopyOf(data, path)) : null;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    /// <summary>Where the copy of a file lies.</summary>
    public static string CopyOf(DataDirectory data, string path) => Path.Combine(data.Path, "last-good", Path.GetFileName(path));
}
