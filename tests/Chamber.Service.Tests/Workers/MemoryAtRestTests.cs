using System.IO.MemoryMappedFiles;
using Chamber.Service.Workers;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;

namespace Chamber.Service.Tests.Workers;

/// <summary>Memory is given back after the start and after work, and not for nothing.</summary>
public class MemoryAtRestTests
{
    [Fact]
    public async Task Memory_is_given_back_after_the_start_and_after_work()
    {
        var clock = new FakeTimeProvider();
        var (allocated, asked, given, rested) = (0L, 0, 0, 0);
        using var worker = new MemoryAtRest(clock, () =>
        {
            Interlocked.Increment(ref asked);
            return Interlocked.Read(ref allocated);
        }, () => Interlocked.Increment(ref given), () => Interlocked.Increment(ref rested));
        await worker.StartAsync(TestContext.Current.CancellationToken);
        await Passes("the start to be over", () => Volatile.Read(ref rested) == 1);
        Assert.Equal(1, Volatile.Read(ref given));

        Interlocked.Add(ref allocated, MemoryAtRest.WorthIt - 1);
        var before = Volatile.Read(ref asked);
        await Passes("three looks at rest", () => Volatile.Read(ref asked) > before + 2);
        Assert.Equal((1, 1), (Volatile.Read(ref given), Volatile.Read(ref rested)));

        Interlocked.Increment(ref allocated);
        await Passes("the end of work", () => Volatile.Read(ref given) == 2);
        await Passes("a rest after it", () => Volatile.Read(ref rested) == 2);
        before = Volatile.Read(ref asked);
        await Passes("three more looks at rest", () => Volatile.Read(ref asked) > before + 2);
        Assert.Equal((2, 2), (Volatile.Read(ref given), Volatile.Read(ref rested)));
        await worker.StopAsync(TestContext.Current.CancellationToken);

        // Again and again, since the worker sets its clock when it comes to that.
        Task Passes(string what, Func<bool> isSo) => Wait.Until(what, () =>
        {
            clock.Advance(MemoryAtRest.Period);
            return isSo();
        });
    }

    // A file beside the program, mapped as its code is, and by nobody else: what others use too stays.
    [Fact]
    public void Pages_of_program_files_leave_memory_and_come_back()
    {
        var path = typeof(Chamber.Core.Bounds).Assembly.Location.Replace(".dll", ".xml", StringComparison.Ordinal);
        using var file = MemoryMappedFile.CreateFromFile(path, FileMode.Open, null, 0, MemoryMappedFileAccess.Read);
        using var code = file.CreateViewAccessor(0, 0, MemoryMappedFileAccess.CopyOnWrite);
        var before = Sum(code);
        Assert.True(Resident(path) > 100);

        SparePages.OfHeap();
        SparePages.OfFiles();

        Assert.Equal(0, Resident(path));
        Assert.Equal(before, Sum(code));
    }

    private static long Sum(MemoryMappedViewAccessor file)
    {
        var sum = 0L;
        for (var i = 0L; i < file.Capacity; i += 512)
        {
            sum += file.ReadByte(i);
        }

        return sum;
    }

    // kB in memory, as proc_pid_smaps(5) has them.
    private static long Resident(string path) => File.ReadLines("/proc/self/smaps")
        .SkipWhile(line => !line.EndsWith(path, StringComparison.Ordinal)).First(line => line.StartsWith("Rss:", StringComparison.Ordinal))
        .Split(' ', StringSplitOptions.RemoveEmptyEntries) is [_, var kilobytes, _]
        ? long.Parse(kilobytes, System.Globalization.CultureInfo.InvariantCulture)
        : throw new FormatException("There is no size in kB.");
}
