using System.Runtime.InteropServices;
using Chamber.Shipping.Tests.Rig;
using Chamber.Testing;

namespace Chamber.Shipping.Tests;

/// <summary>What the README says to publish: for this machine, with the .NET runtime that is on it.</summary>
public sealed class PublishedFolderTests : IAsyncLifetime
{
    private const long MegabytesMax = 150;
    private const string ReadmeLine = "dotnet publish src/Chamber.Service -c Release -o ~/chamber";

    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(10);

    private readonly TempFolder folder = new();

    public async ValueTask InitializeAsync()
    {
        var words = ReadmeLine.Replace("~/chamber", folder.File("chamber"), StringComparison.Ordinal).Split(' ');
        (await RunningProgram.Run(words[0], [.. words[1..], "-v", "q", "-nologo"], environment: Shipped.PlainBuild, folder: SourceTree.Root,
            patience: Patience)).Succeeded();
    }

    public ValueTask DisposeAsync()
    {
        folder.Dispose();
        return ValueTask.CompletedTask;
    }

    [Fact]
    public async Task The_folder_of_the_README_is_small_and_does_the_main_job()
    {
        Assert.Contains($"`{ReadmeLine}`", await File.ReadAllTextAsync(SourceTree.Path("README.md"), TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
        var files = Directory.GetFiles(folder.File("chamber"), "*", SearchOption.AllDirectories);
        Assert.InRange(files.Sum(file => new FileInfo(file).Length) / 1_000_000, 1, MegabytesMax);

        var machine = RuntimeInformation.RuntimeIdentifier;
        var machines = Directory.GetDirectories(folder.File("chamber/runtimes")).Select(Path.GetFileName).ToList();
        Assert.Contains(machine, machines);
        Assert.Subset(new HashSet<string?> { machine, machine.Split('-')[0], "unix" }, machines.ToHashSet());
        Assert.True(File.Exists(folder.File("chamber/licences/THIRD-PARTY-NOTICES.txt")));
        await MainJob.Do(folder.File("chamber/chamber"));
    }
}
