using System.Buffers.Binary;
using Chamber.Shipping.Tests.Rig;

namespace Chamber.Shipping.Tests;

public sealed class SingleFileTests(Shipped shipped)
{
    private const ushort X64 = 62;
    private const ushort Arm64 = 183;

    [Fact]
    public Task The_single_file_does_the_main_job_by_itself() => MainJob.Do(Shipped.SingleFile);

    [Fact]
    public void A_single_file_is_a_single_file() =>
        Assert.Equal(["chamber"], Directory.GetFileSystemEntries(Path.GetDirectoryName(Shipped.SingleFile)!).Select(Path.GetFileName));

    /// <summary>The program for the other kind of machine cannot run here; that every native part of it is made for that machine can be
    /// seen.</summary>
    [Theory]
    [InlineData("linux-x64", X64)]
    [InlineData("linux-arm64", Arm64)]
    public void Every_native_part_is_made_for_its_machine(string kind, ushort machine)
    {
        var parts = Directory.GetFiles(Shipped.Folder(kind)).Select(path => (Name: Path.GetFileName(path), Machine: MachineOf(path)))
            .Where(part => part.Machine is not null).ToList();
        Assert.All(parts, part => Assert.Equal((part.Name, machine), part));
        string[] needed = ["chamber", "libcoreclr.so", "libe_sqlite3.so", "libSkiaSharp.so", "libHarfBuzzSharp.so"];
        Assert.Superset(needed.ToHashSet(), parts.Select(part => part.Name).ToHashSet());
    }

    [Fact]
    public async Task The_program_says_the_version_of_the_history()
    {
        using var home = new ShippedHome(Path.Combine(Shipped.Folder("linux-x64"), "chamber"));
        Assert.StartsWith(shipped.Version, (await home.Json("about")).GetProperty("version").GetString(), StringComparison.Ordinal);
    }

    /// <summary>The e_machine field of an ELF file (System V ABI, chapter 4); null for other files.</summary>
    private static ushort? MachineOf(string path)
    {
        using var file = File.OpenRead(path);
        var header = new byte[20];
        return file.ReadAtLeast(header, header.Length, throwOnEndOfStream: false) == header.Length && header.AsSpan(0, 4)
            .SequenceEqual("\u007fELF"u8)
            ? BinaryPrimitives.ReadUInt16LittleEndian(header.AsSpan(18))
            : null;
    }
}
