namespace Chamber.Service.Ground;

/// <summary>Why a file cannot be read or written, as the end of a sentence.</summary>
internal static class FileFault
{
    public static string Of(Exception problem) => problem switch
    {
        FileNotFoundException or DirectoryNotFoundException => "there is no such file.",
        UnauthorizedAccessException => "it is a folder, or this user may not.",
        _ => OneLine.Of(problem.Message),
    };
}
