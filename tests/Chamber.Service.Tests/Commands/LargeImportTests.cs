using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>The size is invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class LargeImportTests : IDisposable
{
    private const int Lines = 1_200_000;
    private const int Heap = 0x4000000;
    private const string Words = "and then some more of them so that a year of minutes fills a file";

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    /// <summary>140 MB of lines through a heap that may not grow beyond 64: it is streamed, or it ends for want of memory.</summary>
    [Fact]
    public async Task A_file_larger_than_the_memory_is_taken_in()
    {
        var file = folder.File("years.csv");
        using (var writer = new StreamWriter(file))
        {
            writer.Write("at,temperature,humidity,note,remark\n");
            for (var i = 0; i < Lines; i++)
            {
                writer.Write($"{1_700_000_000 + i * 60L},{20 + i % 97 / 10.0:0.0},{50 + i % 40},some words that nobody asked "
                    + $"for, {Words}\n");
            }
        }

        await using var import = ChamberProcess.Start(
            new Dictionary<string, string?> { ["DOTNET_GCHeapHardLimit"] = $"0x{Heap:x}" },
            "import", file, "--probe", "shelf", "--time", "epoch-seconds", "--data", folder.Path);
        var result = await import.End();

        Assert.True(new FileInfo(file).Length > 2L * Heap);
        Assert.StartsWith("1,200,000 readings taken in from 1,200,000 lines", result.Succeeded(), StringComparison.Ordinal);
    }
}
