using System.Diagnostics;
using System.Globalization;

namespace Chamber.Benchmarks;

/// <summary>Times something and prints it as a line.</summary>
internal static class Measure
{
    /// <summary>Prints how many of something were done in a second of the clock, and in a second of processor time of this
    /// process.</summary>
    /// <returns>How many in a second of the clock.</returns>
    public static double Rate(string what, Func<long> work)
    {
        var processor = Environment.CpuUsage.TotalTime;
        var clock = Stopwatch.StartNew();
        var count = work();
        var elapsed = clock.Elapsed;
        var busy = Environment.CpuUsage.TotalTime - processor;
        var rate = count / elapsed.TotalSeconds;
        Say($"{what,-58} {count,11:N0} in {elapsed.TotalSeconds,6:F2} s  {rate,11:N0}/s  {count / busy.TotalSeconds,11:N0}/s of processor");
        return rate;
    }

    public static void Say(FormattableString line) => Console.WriteLine(line.ToString(CultureInfo.InvariantCulture));
}
