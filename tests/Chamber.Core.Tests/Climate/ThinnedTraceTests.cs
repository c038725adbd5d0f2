using Chamber.Core.Climate;
using FsCheck.Xunit;
using NodaTime;

namespace Chamber.Core.Tests.Climate;

public class ThinnedTraceTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 1, 1, 0, 0);

    [Property]
    public bool The_coolest_and_the_warmest_of_the_whole_time_always_stay(byte[] halfDegrees, byte parts)
    {
        var samples = halfDegrees.Select((half, minute) => new TemperatureSample(Start + Duration.FromMinutes(minute), Temperature.FromCelsius(half / 2.0))).ToList();
        var kept = ThinnedTrace.Of(TemperatureTrace.Of(samples, Duration.FromHours(1)), new(Start, Start + Duration.FromMinutes(Math.Max(1, samples.Count))), parts + 1)
            .SelectMany(stretch => stretch).ToList();
        return samples.Count == 0 ? kept.Count == 0
            : kept.Min(sample => sample.Temperature) == samples.Min(sample => sample.Temperature)
                && kept.Max(sample => sample.Temperature) == samples.Max(sample => sample.Temperature)
                && kept.Count <= 2 * (parts + 1)
                && kept.Select(sample => sample.At).SequenceEqual(kept.Select(sample => sample.At).Order())
                && kept.TrueForAll(samples.Contains);
    }

    [Fact]
    public void With_a_part_for_each_reading_all_of_them_stay()
    {
        var samples = Enumerable.Range(0, 10).Select(minute => new TemperatureSample(Start + Duration.FromMinutes(minute), Temperature.FromCelsius(20 + minute % 3))).ToList();
        var kept = ThinnedTrace.Of(TemperatureTrace.Of(samples, Duration.FromHours(1)), new(Start, Start + Duration.FromMinutes(10)), 10);
        Assert.Equal(samples, Assert.Single(kept));
    }
}
