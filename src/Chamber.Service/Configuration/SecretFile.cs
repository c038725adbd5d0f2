using System.Security.Cryptography;

namespace Chamber.Service.Configuration;

/// <summary>A secret that stands alone in a file, so that the settings can be shown to somebody.</summary>
internal static class SecretFile
{
    /// <summary>The first line.</summary>
    /// <exception cref="BadInputException">There is no such file, it cannot be read, or its first line is empty.</exception>
    public static string Read(string path)
    {
        try
        {
            return File.ReadLines(path).FirstOrDefault() is { Length: > 0 } line
                ? line
                : throw new BadInputException($"{path}, whose first line is empty: write the secret there.");
        }
        catch (Exception problem) when (problem is FileNotFoundException or DirectoryNotFoundException)
        {
            throw new BadInputException($"{path}, which does not exist.", problem);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{path}, which cannot be read: {FileFault.Of(problem)}", problem);
        }
    }

    /// <summary>Keeps a secret in a new file that only its owner can read, so that the settings go on naming the old one until they are
    /// written.</summary>
    /// <param name="data">Where.</param>
    /// <param name="purpose">What the file's name begins with.</param>
    /// <param name="secret">One line of text.</param>
    /// <returns>Its name in the data directory.</returns>
    /// <exception cref="BadInputException">It is more than one line or blank, or cannot be written.</exception>
    public static string Keep(DataDirectory data, string purpose, string secret)
    {
        if (string.IsNullOrWhiteSpace(secret) || secret.AsSpan().IndexOfAny('\r', '\n') >= 0)
        {
            throw new BadInputException("A secret is one line of text that is not blank: type it again.");
        }

        var name = $"{purpose}-{RandomNumberGenerator.GetHexString(8, lowercase: true)}";
        try
        {
            WholeFile.Write(data.Resolve(name), secret + "\n", ownerOnly: true);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{data.Resolve(name)} cannot be written: {problem.Message}", problem);
        }

        return name;
    }

    /// <summary>Removes the files that <see cref="Keep"/> made for a purpose, but for the one that counts.</summary>
    public static void Forget(DataDirectory data, string purpose, string? except)
    {
        foreach (var old in Directory.EnumerateFiles(data.Path, $"{purpose}-????????")
            .Where(path => Path.GetFileName(path) != except).ToList())
        {
            File.Delete(old);
        }
    }
}
