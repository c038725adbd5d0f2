using Chamber.Core.Climate;
using Chamber.Core.Spots;
using FsCheck.Xunit;
using NodaTime;

namespace Chamber.Core.Tests.Climate;

/// <summary>Laws over traces drawn at random.</summary>
public class ThinnedTraceTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 1, 1, 0, 0);

    [Property]
    public bool The_coolest_and_the_warmest_of_the_whole_time_always_stay(byte[] halfDegrees, byte parts)
    {
        var samples = halfDegrees.Select(
            (half, minute) => new TemperatureSample(Start + Duration.FromMinutes(minute), Temperature.FromCelsius(half / 2.0))).ToList();
        var kept = ThinnedTrace.Of(samples, Duration.FromHours(1),
            new(Start, Start + Duration.FromMinutes(Math.Max(1, samples.Count))), parts + 1)
            .Stretches.SelectMany(stretch => stretch).ToList();
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
        var samples = Enumerable.Range(0, 10).Select(
            minute => new TemperatureSample(Start + Duration.FromMinutes(minute), Temperature.FromCelsius(20 + minute % 3))).ToList();
        var kept = ThinnedTrace.Of(samples, Duration.FromHours(1), new(Start, Start + Duration.FromMinutes(10)), 10);
        Assert.Equal(samples, Assert.Single(kept.Stretches));
        Assert.Equal(samples.Count, kept.Readings);
    }

    [Property]
    public bool With_a_part_for_each_reading_a_spot_is_what_its_whole_trace_says(byte[] media, byte[] air, byte silence) =>
        ThinnedIsWhole(media, air, silence);

    // Where air steps in, the whole trace has a value interpolated at the last second of media, and here it is what media read.
    [Fact]
    public void A_value_between_two_readings_is_not_a_reading_of_that_probe() =>
        Assert.True(ThinnedIsWhole([0, 0], [0, 0], 2));

    private static bool ThinnedIsWhole(byte[] media, byte[] air, byte silence)
    {
        // Media falls silent for a while, air steps in; both speak at their own second of each minute.
        var probes = new[] { Probe("media", Measurand.Media, media, 0, silence), Probe("air", Measurand.Air, air, 30, null) };
        var when = new Interval(Start, Start + Duration.FromMinutes(256));

        var thinned = SpotTemperature.Thinned(probes, when, 256 * 60);

        var read = probes.SelectMany(probe => probe.Samples.Select(sample => (probe.Probe.Id, sample))).ToHashSet();
        var whole = SpotTemperature.Of(probes).Stretches
            .Select(stretch => stretch.Samples.Where(sample => read.Contains((stretch.Origin!.Probe, sample))).ToList())
            .Where(stretch => stretch.Count > 0)
            .ToList();
        return thinned.Readings == whole.Sum(stretch => stretch.Count)
            && thinned.Stretches.SelectMany(stretch => stretch).SequenceEqual(whole.SelectMany(stretch => stretch));
    }

    private static SpotProbe Probe(string name, Measurand measurand, byte[] halfDegrees, int second, byte? silence) => new(
        new(new(name), measurand, Duration.FromMinutes(10)),
        [new(Start, null)],
        halfDegrees
            .Select((half, minute) => new TemperatureSample(Start + Duration.FromSeconds((60 * minute) + second),
                Temperature.FromCelsius(half / 2.0)))
            .Where((_, minute) => silence is null || minute < silence || minute > silence + 30),
        []);
}
