using System.IO.Compression;
using System.Security.Cryptography;
using System.Text.Json;
using Chamber.Service.Tests.Commands;
using Chamber.Testing;

namespace Chamber.Service.Tests.Demo;

public sealed class FlatRecordingTests : IDisposable
{
    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task The_recording_is_what_its_seed_gives_and_its_checksum_says()
    {
        var told = await Record("1");

        Assert.Equal(Checksum(folder.Path), told);
        Assert.Contains(told, File.ReadAllText(Path.Combine(RecordedFlat.Folder, "README.md")), StringComparison.Ordinal);
        Assert.Equal(Checksum(RecordedFlat.Folder), told);
        foreach (var file in (string[])["typed.tsv", "chamber.json"])
        {
            Assert.Equal(File.ReadAllText(Path.Combine(RecordedFlat.Folder, file)), File.ReadAllText(folder.File(file)));
        }
    }

    [Fact]
    public async Task Another_seed_gives_another_fortnight() => Assert.NotEqual(Checksum(RecordedFlat.Folder), await Record("2"));

    private async Task<string> Record(string seed)
    {
        var outcome = await InProcess.Run("demo", "record", folder.Path, "--seed", seed, "--json");
        Assert.True(outcome.Code == 0, outcome.Error);
        return JsonDocument.Parse(outcome.Out).RootElement.GetProperty("sha256").GetString()!;
    }

    private static string Checksum(string place)
    {
        using var unpacked = new GZipStream(File.OpenRead(Path.Combine(place, "messages.tsv.gz")), CompressionMode.Decompress);
        return Convert.ToHexStringLower(SHA256.HashData(unpacked));
    }
}
