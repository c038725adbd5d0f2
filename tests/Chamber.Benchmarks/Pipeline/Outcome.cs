using System.Diagnostics;
using System.Globalization;
using System.Text.Json;

namespace Chamber.Benchmarks.Pipeline;

/// <summary>What a contender did from its first message to its last: printed as one line of JSON by its process.</summary>
/// <param name="Messages">How many messages.</param>
/// <param name="Seconds">By the clock, which a busy machine stretches.</param>
/// <param name="Stored">How many readings it then held.</param>
/// <param name="CpuSeconds">Processor time of the whole process meanwhile, which a busy machine stretches much less.</param>
/// <param name="PeakMegabytes">Most memory of the process, its start included.</param>
internal sealed record Outcome(long Messages, double Seconds, long Stored, double CpuSeconds, double PeakMegabytes)
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web);

    public double PerSecond => Messages / Seconds;

    public double CpuMicroseconds => CpuSeconds / Messages * 1e6;

    public static Outcome Parse(string line) => JsonSerializer.Deserialize<Outcome>(line, Options)!;

    /// <summary>The middle of several runs, each quantity for itself.</summary>
    public static Outcome Median(IReadOnlyList<Outcome> runs) => new(
        runs[0].Messages,
        Middle(runs, run => run.Seconds),
        runs.Min(run => run.Stored),
        Middle(runs, run => run.CpuSeconds),
        Middle(runs, run => run.PeakMegabytes));

    public override string ToString() =>
        string.Create(CultureInfo.InvariantCulture,
        $"{PerSecond / 1000,7:0.0} k/s  {CpuMicroseconds,5:0.0} µs of processor a message  peak {PeakMegabytes,4:0} MB  stored {Stored}");

    private static double Middle(IEnumerable<Outcome> runs, Func<Outcome, double> quantity)
    {
        double[] ordered = [.. runs.Select(quantity).Order()];
        return (ordered[(ordered.Length - 1) / 2] + ordered[ordered.Length / 2]) / 2;
    }

    /// <summary>Measures from the first message on.</summary>
    internal sealed class Meter
    {
        private readonly Stopwatch clock = new();
        private TimeSpan processor;

        public void Start()
        {
            if (!clock.IsRunning)
            {
                processor = Environment.CpuUsage.TotalTime;
                clock.Start();
            }
        }

        public void Print(long messages, Func<long> stored)
        {
            var (seconds, busy) = (clock.Elapsed.TotalSeconds, Environment.CpuUsage.TotalTime - processor);
            using var self = Process.GetCurrentProcess();
            Console.WriteLine(JsonSerializer.Serialize(
                new Outcome(messages, seconds, stored(), busy.TotalSeconds, self.PeakWorkingSet64 / 1048576.0), Options));
        }
    }
}
