using System.Text;

namespace Chamber.Service.Configuration;

/// <summary>Replaces a file as a whole or not at all: it is written beside, brought to the disk, and renamed over the old one.</summary>
internal static class WholeFile
{
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    /// <param name="path">Which file; where it is a link, what it leads to is replaced.</param>
    /// <param name="text">Everything that it is to hold, kept as UTF-8.</param>
    /// <param name="ownerOnly">Whether only its owner may read it. Otherwise it keeps the rights that it had.</param>
    /// <exception cref="IOException">It cannot be written, and is as it was.</exception>
    /// <exception cref="UnauthorizedAccessException">Likewise.</exception>
    public static void Write(string path, string text, bool ownerOnly)
    {
        var target = new FileInfo(path).LinkTarget is null ? path : File.ResolveLinkTarget(path, returnFinalTarget: true)!.FullName;
        var beside = target + ".new";
        var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows() && (ownerOnly || File.Exists(target)))
        {
            options.UnixCreateMode = ownerOnly ? OwnerOnly : File.GetUnixFileMode(target);
        }

        try
        {
            using (var stream = new FileStream(beside, options))
            {
                stream.Write(Encoding.UTF8.GetBytes(text));
                stream.Flush(flushToDisk: true);
            }

            File.Move(beside, target, overwrite: true);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            File.Delete(beside);
            throw;
        }
    }
}
