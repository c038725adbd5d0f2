using Chamber.Service.Configuration;

namespace Chamber.Service.Demo;

/// <summary>Where a demo keeps its data: a directory that goes when the demo ends, or one that somebody named for it.</summary>
internal sealed class DemoDirectory : IDisposable
{
    private readonly bool passing;

    private DemoDirectory(DataDirectory data, bool passing)
    {
        Data = data;
        this.passing = passing;
    }

    public DataDirectory Data { get; }

    /// <summary>CHAMBER_DATA is not asked: it names the user's own home.</summary>
    /// <exception cref="BadInputException">The directory holds something already.</exception>
    public static DemoDirectory Choose(string? asked)
    {
        if (string.IsNullOrWhiteSpace(asked))
        {
            return new(new(Directory.CreateTempSubdirectory("chamber-demo-").FullName), passing: true);
        }

        var data = new DataDirectory(Path.GetFullPath(asked));
        if (File.Exists(data.Path) || (Directory.Exists(data.Path) && Directory.EnumerateFileSystemEntries(data.Path).Any()))
        {
            throw new BadInputException(
                $"--data {asked} is not empty, and the demo writes over nothing: name a new directory, or leave --data out.");
        }

        return new(data, passing: false);
    }

    public void Dispose()
    {
        if (passing && Directory.Exists(Data.Path))
        {
            Directory.Delete(Data.Path, recursive: true);
        }
    }
}
