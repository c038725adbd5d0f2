using System.Runtime.InteropServices;
using Chamber.Testing;

namespace Chamber.Benchmarks.Running;

/// <summary>Processor time of programs that are run to their end, which other work on the machine distorts much less than the
/// clock.</summary>
internal static class ProcessorTime
{
    private const int ChildrenThatEnded = -1;

    /// <summary>Seconds that a program took, its own and those of the system for it. Nothing else may be run meanwhile.</summary>
    /// <exception cref="InvalidOperationException">The program failed.</exception>
    public static async Task<double> Of(string program, IEnumerable<string> arguments)
    {
        var before = OfChildren();
        (await RunningProgram.Run(program, arguments)).Succeeded();
        return OfChildren() - before;
    }

    public static double Middle(IReadOnlyList<double> times) => times.Order().ElementAt(times.Count / 2);

    // Seconds of all programs that this one has started and that have ended.
    private static double OfChildren()
    {
        var usage = new long[18];
        return Usage(ChildrenThatEnded, usage) == 0
            ? usage[0] + usage[2] + (usage[1] + usage[3]) / 1e6
            : throw new InvalidOperationException("getrusage(2) failed.");
    }

    [DllImport("libc", EntryPoint = "getrusage")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Usage(int who, [Out] long[] usage);
}
