using NodaTime;

namespace Chamber.Service.Tests.Storage;

/// <summary>The log of a data file whose process was killed, damaged while nothing ran. Readings and counts are invented.</summary>
public sealed class WalTailTests : IDisposable
{
    private const int Batches = 20;

    private static readonly Interval Always = new(null, null);

    private readonly DataFile file = new();
    private readonly DataFile image = new();

    private string Log => image.Path + "-wal";

    public void Dispose()
    {
        file.Dispose();
        image.Dispose();
    }

    [Fact]
    public void An_end_of_the_log_that_no_sum_fits_is_noticed_at_the_next_start()
    {
        Kill();
        Change(bytes => bytes[^100] ^= 1);

        Assert.True(Readings(out var damage) < Batches);
        Assert.Contains("the end of its log was damaged", damage, StringComparison.Ordinal);
        Assert.Contains("delete chamber.db-lost", damage, StringComparison.Ordinal);

        // Said until somebody has looked.
        Readings(out var again);
        Assert.Equal(damage, again);
        File.Delete(image.Path + "-lost");
        Readings(out var after);
        Assert.Null(after);
    }

    public static TheoryData<string, Func<byte[], byte[]?>> Damages => new()
    {
        { "cut", bytes => bytes[..(bytes.Length / 2)] },
        { "empty", _ => [] },
        { "gone", _ => null },
        { "header", bytes => [.. bytes[..17], (byte)(bytes[17] ^ 4), .. bytes[18..]] },
        { "zeroed page", bytes => [.. bytes[..^4096], .. new byte[4096]] },
    };

    [Theory]
    [MemberData(nameof(Damages))]
    public void A_log_that_is_not_whole_is_noticed(string kind, Func<byte[], byte[]?> damage)
    {
        Kill();
        var bytes = damage(File.ReadAllBytes(Log));
        File.Delete(Log);
        if (bytes is not null)
        {
            File.WriteAllBytes(Log, bytes);
        }

        Readings(out var told);
        Assert.True(told is not null, kind);
    }

    [Fact]
    public void A_process_that_was_killed_is_no_damage_and_neither_is_one_that_stopped()
    {
        Kill();
        Assert.Equal(Batches, Readings(out var damage));
        Assert.Null(damage);
        Assert.False(File.Exists(image.Path + "-mark"));
        Assert.Equal(Batches, Readings(out damage));
        Assert.Null(damage);
    }

    [Fact]
    public void What_another_process_is_writing_is_no_damage()
    {
        using var first = file.Open();
        for (var i = 0; i < Batches; i++)
        {
            first.Journal.Append([DataFile.At(i)], []);
            using var second = file.Open();
            Assert.Null(second.Damage);
            second.Journal.Append([DataFile.At(i, probe: "sill")], []);
        }

        Assert.Null(first.Damage);
    }

    [Fact]
    public void The_log_is_taken_into_the_file_while_the_process_runs()
    {
        using var store = file.Open();
        for (var i = 0; i < 60; i++)
        {
            store.Journal.Append(DataFile.Minutes(i * 15_000, 15_000), []);
        }

        Assert.InRange(new FileInfo(file.Path + "-wal").Length, 1, 40_000_000);
        Assert.True(new FileInfo(file.Path).Length > 4_000_000);
    }

    // The files as they lie there when a process is killed after its last acknowledgement.
    private void Kill()
    {
        using var store = file.Open();
        for (var i = 0; i < Batches; i++)
        {
            store.Journal.Append([DataFile.At(i)], []);
        }

        foreach (var suffix in (string[])["", "-wal", "-mark"])
        {
            File.Copy(file.Path + suffix, image.Path + suffix);
            File.SetLastWriteTimeUtc(image.Path + suffix, File.GetLastWriteTimeUtc(file.Path + suffix));
        }
    }

    private void Change(Action<byte[]> change)
    {
        var bytes = File.ReadAllBytes(Log);
        change(bytes);
        File.WriteAllBytes(Log, bytes);
    }

    private int Readings(out string? damage)
    {
        using var store = image.Open();
        damage = store.Damage;
        return store.Journal.Read(new("shelf"), Always).Count();
    }
}
