using System.Runtime;

namespace Chamber.Service.Workers;

/// <summary>
/// Gives memory back to the machine after work. The runtime collects when its budget is used up, which on a machine with a large cache
/// takes tens of megabytes that a quiet service would keep for hours.
/// </summary>
/// <param name="clock">Real time.</param>
/// <param name="allocated">How many bytes this process has ever allocated.</param>
/// <param name="giveBack">Collects everything and gives back what is free.</param>
internal sealed class MemoryAtRest(TimeProvider clock, Func<long> allocated, Action giveBack) : Worker
{
    /// <summary>So often it looks.</summary>
    public static readonly TimeSpan Period = TimeSpan.FromMinutes(2);

    /// <summary>Soon after the start, which allocates more than hours of rest.</summary>
    public static readonly TimeSpan First = TimeSpan.FromSeconds(10);

    /// <summary>For less than this a collection is not worth its 20 to 50 ms of processor.</summary>
    public const long WorthIt = 24 << 20;

    public static MemoryAtRest OfProcess() => new(TimeProvider.System, () => GC.GetTotalAllocatedBytes(), GiveBack);

    protected override async Task WorkAsync(CancellationToken stop)
    {
        await Task.Delay(First, clock, stop);
        var before = allocated();
        giveBack();
        using var timer = new PeriodicTimer(Period, clock);
        while (await timer.WaitForNextTickAsync(stop))
        {
            if (allocated() - before >= WorthIt)
            {
                before = allocated();
                giveBack();
            }
        }
    }

    private static void GiveBack()
    {
        GCSettings.LargeObjectHeapCompactionMode = GCLargeObjectHeapCompactionMode.CompactOnce;
        GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
    }
}
