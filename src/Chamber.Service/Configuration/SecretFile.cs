using Chamber.Service.Commands;

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
            throw new BadInputException($"{path}, which cannot be read: {problem.Message}", problem);
        }
    }
}
