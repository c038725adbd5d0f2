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
        var (allocated, asked, given) = (0L, 0, 0);
        using var worker = new MemoryAtRest(clock, () =>
        {
            Interlocked.Increment(ref asked);
            return Interlocked.Read(ref allocated);
        }, () => Interlocked.Increment(ref given));
        await worker.StartAsync(TestContext.Current.CancellationToken);
        await Passes("the start to be over", () => Volatile.Read(ref given) == 1);

        Interlocked.Add(ref allocated, MemoryAtRest.WorthIt - 1);
        var before = Volatile.Read(ref asked);
        await Passes("three looks at rest", () => Volatile.Read(ref asked) > before + 2);
        Assert.Equal(1, Volatile.Read(ref given));

        Interlocked.Increment(ref allocated);
        await Passes("the end of work", () => Volatile.Read(ref given) == 2);
        await worker.StopAsync(TestContext.Current.CancellationToken);

        // Again and again, since the worker sets its clock when it comes to that.
        Task Passes(string what, Func<bool> isSo) => Wait.Until(what, () =>
        {
            clock.Advance(MemoryAtRest.Period);
            return isSo();
        });
    }
}
