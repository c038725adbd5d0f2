using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>What Chamber writes only its owner can read, also when it is started by hand.</summary>
public sealed class OwnFilesTests : IDisposable
{
    private const UnixFileMode Others = UnixFileMode.GroupRead | UnixFileMode.GroupWrite | UnixFileMode.GroupExecute
        | UnixFileMode.OtherRead | UnixFileMode.OtherWrite | UnixFileMode.OtherExecute;

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_data_directory_and_its_files_are_closed_to_others()
    {
        var data = folder.File("home");
        (await ChamberProcess.Run("spot", "add", "shelf", "--data", data)).Succeeded();
        (await ChamberProcess.Run("backup", "--data", data)).Succeeded();

        string[] paths = [data, .. Directory.GetFileSystemEntries(data, "*", SearchOption.AllDirectories)];
        Assert.Contains(Path.Combine(data, "chamber.db"), paths);
        Assert.DoesNotContain(paths, path => (File.GetUnixFileMode(path) & Others) != 0);
    }
}
