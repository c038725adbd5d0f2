
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
            throw Refused(target, problem);
        }
    }

    /// <inheritdoc cref="Write"/>
    public static async Task WriteAsync(string target, Func<Task> write)
    {
        try
        {
            await write();
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw Refused(target, problem);
        }
    }

    private static BadInputException Refused(string target, Exception problem) => new($"{target}: {problem.Message}", problem);
}
