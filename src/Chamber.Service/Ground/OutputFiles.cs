
namespace Chamber.Service.Ground;

/// <summary>Files that a person asked for.</summary>
internal static class OutputFiles
{
    /// <summary>Writes, and turns a disk that refuses into one line that names the target.</summary>
    /// <exception cref="BadInputException">It cannot be written.</exception>
    public static void Write(string target, Action write)
    {
        try
        {
            write();
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{target}: {problem.Message}", problem);
        }
    }
}
