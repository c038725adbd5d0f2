using System.IO.Compression;
using Chamber.Shipping.Tests.Rig;
using Chamber.Testing;

namespace Chamber.Shipping.Tests;

/// <summary>Whoever gets a shipped form gets the licence texts and notices of all that is inside it.</summary>
public sealed class LicenceTests(Shipped shipped)
{
    private const string Notices = "THIRD-PARTY-NOTICES.txt";

    private static readonly string[] Texts = ["LICENSE", Notices];

    [Fact]
    public async Task The_list_and_the_texts_hold_every_package_that_is_resolved() =>
        Assert.Contains("packages", (await RunningProgram.Run("python3", [SourceTree.Path("eng", "list-licences"), "--check"])).Succeeded(),
            StringComparison.Ordinal);

    [Fact]
    public void Every_package_of_the_list_has_a_text()
    {
        var rows = File.ReadLines(SourceTree.Path("THIRD-PARTY-LICENSES.md")).SkipWhile(line => line != "| --- | --- | --- | --- | --- |")
            .Skip(1).TakeWhile(line => line.StartsWith('|'))
            .Select(line => line.Split('|', StringSplitOptions.TrimEntries)).Select(cells => $"{cells[1]} {cells[2]}").ToList();
        var headings = File.ReadAllText(SourceTree.Path(Notices));
        Assert.True(rows.Count > 50);
        Assert.All(rows, package => Assert.Contains(package, headings, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("linux-x64")]
    [InlineData("linux-arm64")]
    public void The_folder_and_with_it_the_container_carry_them(string kind) =>
        Assert.All(Texts, name => Assert.Equal(Kept(name), File.ReadAllText(Path.Combine(Shipped.Folder(kind), "licences", name))));

    [Fact]
    public async Task The_single_file_shows_them()
    {
        using var home = new ShippedHome(Shipped.SingleFile);
        var said = await home.Ask("about --licences");
        Assert.All(Texts, name => Assert.Contains(Kept(name).Trim(), said, StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_Debian_package_carries_them_where_Debian_looks_for_them()
    {
        using var folder = new TempFolder();
        (await RunningProgram.Run("dpkg-deb", ["--extract", shipped.DebianPackage, folder.Path])).Succeeded();
        var copyright = await File.ReadAllTextAsync(folder.File("usr/share/doc/chamber/copyright"), TestContext.Current.CancellationToken);
        Assert.All(Texts, name => Assert.Contains(Kept(name), copyright, StringComparison.Ordinal));
    }

    [Fact]
    public void The_tool_carries_them()
    {
        using var package = ZipFile.OpenRead(Path.Combine(Shipped.Packages, $"chamber.{shipped.Version}.nupkg"));
        Assert.All(Texts, name =>
        {
            using var reader = new StreamReader(
                package.Entries.Single(entry => entry.FullName.EndsWith($"/licences/{name}", StringComparison.Ordinal)).Open());
            Assert.Equal(Kept(name), reader.ReadToEnd());
        });
    }

    private static string Kept(string name) => File.ReadAllText(SourceTree.Path(name));
}
