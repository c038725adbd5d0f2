using BenchmarkDotNet.Attributes;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Benchmarks;

/// <summary>Ranks 30 spots for 50 crops over 14 days of minutes; aim: at most a second, surveys included.</summary>
public class RankingBenchmarks
{
    private const int SpotCount = 30;
    private const int CropCount = 50;

    private readonly DateTimeZone zone = DateTimeZoneProviders.Tzdb["Europe/Berlin"];
    private readonly Crop[] crops = [.. CropCatalog.Shipped.Crops.Take(CropCount)];
    private TemperatureTrace[] traces = [];
    private SurveyedSpot[] surveyed = [];

    [GlobalSetup]
    public void Setup()
    {
        var random = new Random(1954);
        var start = Instant.FromUtc(2026, 3, 20, 0, 0);
        traces = [.. Enumerable.Range(0, SpotCount).Select(spot => TemperatureTrace.Of(
            Enumerable.Range(0, 14 * 1440).Select(minute => new TemperatureSample(
                start + Duration.FromMinutes(minute),
                Temperature.FromCelsius(15 + spot / 2.0 + 6 * Math.Sin(minute * Math.PI / 720) + random.NextDouble()))),
            Probe.DefaultMaxGap))];
        surveyed = Surveyed();
    }

    [Benchmark]
    public int SurveyAndRank() => Ranked(Surveyed());

    [Benchmark]
    public int RankOnly() => Ranked(surveyed);

    private SurveyedSpot[] Surveyed() => [.. traces.Select((trace, index) =>
        new SurveyedSpot(new Spot(new SpotId($"spot-{index}"), SpotKind.Shelf, LightLevel.Bright, 4), Survey.Of(trace, zone)))];

    private int Ranked(SurveyedSpot[] spots) => crops.Sum(crop => SpotRanking.ForCrop(crop, spots, new Random(1)).Count);
}
