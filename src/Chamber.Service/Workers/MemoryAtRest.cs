using System.Runtime;

namespace Chamber.Service.Workers;

/// <summary>
/// Gives memory back to the machine after work. The runtime collects when its budget is used up, which on a machine with a large cache
/// takes tens of megabytes that a quiet service would keep for hours; and three quarters of the program's files are used at the start and
/// by pages only.
/// </summary>
/// <param name="clock">Real time.</param>
/// <param name="allocated">How many bytes this process has ever allocated.</param>
/// <param name="giveBack">Collects everything and gives back what is free.</param>
/// <param name="rest">Gives back what a rest does not need.</param>
internal sealed class MemoryAtRest(TimeProvider clock, Func<long> allocated, Action giveBack, Action rest) : Worker
{
    /// <summary>So often it looks.</summary>
    public static readonly TimeSpan Period = TimeSpan.FromMinutes(2);

    /// <summary>Soon after the start, which allocates more than hours of rest.</summary>
    public static readonly TimeSpan First = TimeSpan.FromSeconds(10);

    /// <summary>For less than this a collection is not worth its 20 to 50 ms of processor.</summary>
    public const long WorthIt = 24 << 20;

    public static MemoryAtRest OfProcess() => new(TimeProvider.System, () => GC.GetTotalAllocatedBytes(), GiveBack, SparePages.OfFiles);

    protected override async Task WorkAsync(CancellationToken stop)
    {
        await Task.Delay(First, clock, stop);
        var before = allocated();
        giveBack();
        rest();
        var rests = true;
        using var timer = new PeriodicTimer(Period, clock);
        while (await timer.WaitForNextTickAsync(stop))
        {
            if (allocated() - before >= WorthIt)
            {
                before = allocated();
                giveBack();
                rests = false;
            }
            else if (!rests)
            {
                // Not while somebody goes from page to page.
                rest();
                rests = true;
            }
        }
    }

    private static void GiveBack()
    {
        GCSettings.LargeObjectHeapCompactionMode = GCLargeObjectHeapCompactionMode.CompactOnce;
        GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
        SparePages.OfHeap();
    }
}
