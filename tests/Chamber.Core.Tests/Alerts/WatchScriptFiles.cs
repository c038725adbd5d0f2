namespace Chamber.Core.Tests.Alerts;

/// <summary>Finds the scripts of tests/cases/watch from the test's own folder upwards.</summary>
internal static class WatchScriptFiles
{
    public static string Folder { get; } = Find();

    public static IEnumerable<string> All =>
        Directory.EnumerateFiles(Folder, "*.watch").Select(path => Path.GetFileName(path)!).Order(StringComparer.Ordinal);

    public static string Read(string name) => File.ReadAllText(Path.Combine(Folder, name));

    private static string Find()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            var cases = Path.Combine(folder.FullName, "tests", "cases", "watch");
            if (Directory.Exists(cases))
            {
                return cases;
            }
        }

        throw new DirectoryNotFoundException("tests/cases/watch lies nowhere above the test.");
    }
}
