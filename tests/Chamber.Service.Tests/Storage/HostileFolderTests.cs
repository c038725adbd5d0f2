using Chamber.Storage.Moving;
using Chamber.Testing;

namespace Chamber.Service.Tests.Storage;

/// <summary>A folder of a home that somebody else has made: a line without end is told, and not kept in memory.</summary>
public sealed class HostileFolderTests : IDisposable
{
    private readonly TempFolder folder = new();

    public static TheoryData<string> Files => new(HomeFolder.Facts, HomeFolder.Readings, HomeFolder.Unheard, RefusedFile.Name);

    [Theory]
    [MemberData(nameof(Files))]
    public async Task A_line_without_end_is_named(string name)
    {
        File.CreateSymbolicLink(folder.File(name), "/dev/zero");
        using var file = new DataFile();
        using var store = file.Open();
        var (home, before, stop) = (store.Home, GC.GetTotalAllocatedBytes(), TestContext.Current.CancellationToken);

        var refused = await Assert.ThrowsAsync<FormatException>(async () =>
        {
            _ = name switch
            {
                HomeFolder.Facts => HomeFolder.ReadFacts(folder.Path).Count,
                HomeFolder.Readings => await HomeFolder.ReadReadingsAsync(folder.Path, home, probe => probe, stop),
                HomeFolder.Unheard => HomeFolder.ReadUnheard(folder.Path).Count,
                _ => RefusedFile.Read(folder.Path).Kept.Count,
            };
        });

        Assert.Contains($"{folder.File(name)} line 1: it is longer than 16 MiB", refused.Message, StringComparison.Ordinal);
        Assert.InRange(GC.GetTotalAllocatedBytes() - before, 0, 200 << 20);
    }

    public void Dispose() => folder.Dispose();
}
