namespace Chamber.Testing;

/// <summary>Where the sources and the built programs of this project are.</summary>
public static class SourceTree
{
    /// <summary>The folder of Chamber.sln, found upwards from the running test.</summary>
    public static string Root { get; } = Find();

    /// <summary>The configuration that the running test was built in: <c>debug</c> or <c>release</c>.</summary>
    public static string Configuration { get; } = new DirectoryInfo(AppContext.BaseDirectory).Name;

    /// <summary>The full path of something in the repository.</summary>
    public static string Path(params ReadOnlySpan<string> parts) => System.IO.Path.Combine([Root, .. parts]);

    private static string Find()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(System.IO.Path.Combine(folder.FullName, "Chamber.sln")))
            {
                return folder.FullName;
            }
        }

        throw new DirectoryNotFoundException(
            $"No folder above {AppContext.BaseDirectory} holds Chamber.sln; run the tests from a built checkout.");
    }
}
