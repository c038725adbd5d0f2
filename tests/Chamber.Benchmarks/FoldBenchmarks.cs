using BenchmarkDotNet.Attributes;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Benchmarks;

/// <summary>The fold over a year of minutes of one spot; aim: 5 million readings a second and core, a year of 20 spots in 10 s.</summary>
[MemoryDiagnoser]
public class FoldBenchmarks
{
    private const int Readings = 525_600;

    private readonly DateTimeZone zone = DateTimeZoneProviders.Tzdb["Europe/Berlin"];
    private TemperatureSample[] samples = [];
    private TemperatureTrace trace = null!;
    private WarmthLimits limits;

    [GlobalSetup]
    public void Setup()
    {
        var random = new Random(1954);
        var start = Instant.FromUtc(2025, 11, 25, 0, 0);
        samples = [.. Enumerable.Range(0, Readings).Select(minute => new TemperatureSample(
            start + Duration.FromMinutes(minute),
            Temperature.FromCelsius(20 + 8 * Math.Sin(minute * Math.PI / 720) + random.NextDouble())))];
        trace = TemperatureTrace.Of(samples, Probe.DefaultMaxGap);
        limits = CropCatalog.Shipped.Require("tomato").Limits;
    }

    [Benchmark(Baseline = true, OperationsPerInvoke = Readings)]
    public WarmHours RunningTally()
    {
        var tally = new WarmthTally(limits, Probe.DefaultMaxGap);
        foreach (var sample in samples)
        {
            tally.Add(sample.At, sample.Temperature);
        }

        return tally.Measured;
    }

    [Benchmark(OperationsPerInvoke = Readings)]
    public WarmHours FoldByDay() => WarmthFold.Over(trace, limits, zone).Total.Total;

    [Benchmark(OperationsPerInvoke = Readings)]
    public TemperatureTrace BuildTrace() => TemperatureTrace.Of(samples, Probe.DefaultMaxGap);

    [Benchmark(OperationsPerInvoke = Readings)]
    public HourOfDayProfile UsualDay() => HourOfDayProfile.From(trace, zone);
}
