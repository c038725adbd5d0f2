using Chamber.Testing;

namespace Chamber.Shipping.Tests;

/// <summary>The version comes from the tags of the history; a copy of the sources may have no tag, a short history, or none.</summary>
public sealed class VersionTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);

    [Fact]
    public async Task A_short_history_a_tag_and_no_history_all_give_a_version()
    {
        using var folder = new TempFolder();
        var copy = folder.File("copy");
        await Git(folder.Path, "clone", "--quiet", "--depth", "1", $"file://{SourceTree.Root}", copy);
        Assert.StartsWith("0.1.0-preview.0", await Version(copy), StringComparison.Ordinal);

        await Git(copy, "tag", "v7.8.9");
        Assert.Equal("7.8.9", await Version(copy));

        Directory.Delete(Path.Combine(copy, ".git"), recursive: true);
        Assert.StartsWith("0.1.0-preview.0", await Version(copy), StringComparison.Ordinal);
    }

    private static async Task Git(string folder, params string[] arguments) =>
        (await RunningProgram.Run("git", ["-c", "safe.directory=*", .. arguments], folder: folder)).Succeeded();

    private static async Task<string> Version(string copy)
    {
        var said = (await RunningProgram.Run(Path.Combine(copy, "eng", "version"), [], folder: copy, patience: Patience)).Succeeded();
        return said.Split('\n')[^1];
    }
}
