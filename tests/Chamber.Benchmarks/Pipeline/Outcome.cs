using System.Diagnostics;
using System.Globalization;
using System.Text.Json;

namespace Chamber.Benchmarks.Pipeline;

/// <summary>What a contender did: printed as one line of JSON by its process.</summary>
internal sealed record Outcome(long Messages, double Seconds, long Stored, double CpuSeconds, double PeakMegabytes)
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web);

    /// <summary>Of the whole process, its start included: what a busy machine cannot distort.</summary>
    public double CpuSeconds { get; init; } = CpuSeconds;

    public double PerSecond => Messages / Seconds;

    public static Outcome Parse(string line) => JsonSerializer.Deserialize<Outcome>(line, Options)!;

    public static void Print(long messages, TimeSpan took, long stored)
    {
        using var self = Process.GetCurrentProcess();
        Console.WriteLine(JsonSerializer.Serialize(new Outcome(messages, took.TotalSeconds, stored, self.TotalProcessorTime.TotalSeconds, self.PeakWorkingSet64 / 1048576.0), Options));
    }

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{PerSecond / 1000,7:0.0} k/s  stored {Stored,9}  {CpuSeconds / Messages * 1e6,6:0.0} µs of processor a message  peak {PeakMegabytes,5:0} MB");
}
