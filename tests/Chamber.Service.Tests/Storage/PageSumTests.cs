using System.Buffers.Binary;
using Chamber.Storage;
using Chamber.Testing;

namespace Chamber.Service.Tests.Storage;

/// <summary>
/// The sum on each page of the data file. It is worked out here once more, bit by bit: CRC-32C, with the test vector of RFC 3720, appendix
/// B.4. Readings are invented.
/// </summary>
public sealed class PageSumTests : IDisposable
{
    private const int PageSize = 4096;
    private const int SumLength = 8;
    private const int ReservedAt = 20;

    private readonly DataFile file = new();

    public void Dispose() => file.Dispose();

    [Fact]
    public void Every_page_of_a_file_and_of_its_backup_has_its_sum()
    {
        Assert.Equal(0x8A9136AAu, ~Crc32C(~0u, new byte[32]));
        using (var store = file.Open())
        {
            for (var day = 0; day < 5; day++)
            {
                store.Journal.Append(DataFile.Minutes(day * 1440, 1440), []);
            }

            store.BackUp(file.Beside("backup.db"));
        }

        foreach (var path in (string[])[file.Path, file.Beside("backup.db")])
        {
            var bytes = File.ReadAllBytes(path);
            Assert.True(bytes.Length > 20 * PageSize);
            Assert.Equal(SumLength, bytes[ReservedAt]);
            for (var page = 0; page < bytes.Length / PageSize; page++)
            {
                Assert.Equal(Sum(bytes.AsSpan(page * PageSize, PageSize), (uint)page),
                    BinaryPrimitives.ReadUInt64LittleEndian(bytes.AsSpan((page * PageSize) + PageSize - SumLength)));
            }
        }
    }

    [Fact]
    public void A_page_at_the_place_of_another_is_damage()
    {
        using (var store = file.Open())
        {
            store.Journal.Append(DataFile.Minutes(0, 3000), []);
        }

        var bytes = File.ReadAllBytes(file.Path);
        var (one, other) = (bytes.Length / PageSize - 2, bytes.Length / PageSize - 3);
        bytes.AsSpan(one * PageSize, PageSize).CopyTo(bytes.AsSpan(other * PageSize));
        File.WriteAllBytes(file.Path, bytes);

        Assert.True(Assert.Throws<StoreException>(() => ChamberStore.Verify(file.Path)).IsDamage);
    }

    [Fact]
    public async Task Another_program_reads_the_file_as_any_of_SQLite()
    {
        using (var store = file.Open())
        {
            store.Journal.Append(DataFile.Minutes(0, 500), []);
        }

        const string script = """
            import sqlite3, sys
            db = sqlite3.connect('file:' + sys.argv[1] + '?mode=ro', uri=True)
            print(db.execute('PRAGMA integrity_check').fetchone()[0], db.execute('SELECT count(*) FROM reading').fetchone()[0])
            """;
        Assert.Equal("ok 500", (await RunningProgram.Run("python3", ["-c", script, file.Path])).Succeeded().Trim());
    }

    [Fact]
    public void A_file_from_before_is_read_and_written_without()
    {
        File.Copy(SourceTree.Path("tests", "cases", "schemas", "v11.db"), file.Path);
        using (var store = file.Open())
        {
            store.Journal.Append(DataFile.Minutes(0, 500), []);
            store.BackUp(file.Beside("backup.db"));
        }

        Assert.Equal(0, File.ReadAllBytes(file.Path)[ReservedAt]);
        Assert.Equal(500, ChamberStore.Verify(file.Beside("backup.db")).Counts.Readings - ChamberStore.Verify(
            SourceTree.Path("tests", "cases", "schemas", "v11.db")).Counts.Readings);
    }

    private static ulong Sum(ReadOnlySpan<byte> page, uint number)
    {
        var (even, odd) = (number + 1, ~number);
        for (var word = 0; word < (PageSize - SumLength) / 8; word++)
        {
            var bytes = page.Slice(word * 8, 8);
            (even, odd) = word % 2 == 0 ? (Crc32C(even, bytes), odd) : (even, Crc32C(odd, bytes));
        }

        return even | ((ulong)odd << 32);
    }

    private static uint Crc32C(uint sum, ReadOnlySpan<byte> bytes)
    {
        foreach (var one in bytes)
        {
            sum ^= one;
            for (var bit = 0; bit < 8; bit++)
            {
                sum = (sum >> 1) ^ ((sum & 1) == 0 ? 0 : 0x82F63B78u);
            }
        }

        return sum;
    }
}
