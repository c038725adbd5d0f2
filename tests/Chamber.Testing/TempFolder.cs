namespace Chamber.Testing;

/// <summary>Its own folder for one test, removed with all it holds at disposal.</summary>
public sealed class TempFolder : IDisposable
{
    // Where Linux has files in memory.
    private const string Memory = "/dev/shm";

    /// <param name="inMemory">Whether its files may lie in memory, which is for many small ones.</param>
    public TempFolder(bool inMemory = false) => Path = inMemory && Directory.Exists(Memory)
        ? Directory.CreateDirectory(System.IO.Path.Combine(Memory, $"chamber-test-{System.IO.Path.GetRandomFileName()}")).FullName
        : Directory.CreateTempSubdirectory("chamber-test-").FullName;

    /// <summary>The folder's full path.</summary>
    public string Path { get; }

    /// <summary>The full path of a file in the folder, which need not exist.</summary>
    public string File(string name) => System.IO.Path.Combine(Path, name);

    /// <summary>Writes a text file into the folder and returns its full path.</summary>
    public string Write(string name, string text)
    {
        var path = File(name);
        Directory.CreateDirectory(System.IO.Path.GetDirectoryName(path)!);
        System.IO.File.WriteAllText(path, text);
        return path;
    }

    public void Dispose()
    {
        if (Directory.Exists(Path))
        {
            Directory.Delete(Path, recursive: true);
        }
    }
}
