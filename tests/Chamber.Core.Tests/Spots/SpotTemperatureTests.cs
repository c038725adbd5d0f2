using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Spots;
using NodaTime;
using static Chamber.Core.Tests.Climate.Traces;

namespace Chamber.Core.Tests.Spots;

/// <summary>Which probe speaks for a spot: invented readings.</summary>
public sealed class SpotTemperatureTests
{
    private static readonly Interval Always = new(null, null);

    [Fact]
    public void Media_comes_before_surface_and_air_and_air_steps_in_where_it_has_a_gap()
    {
        var media = Probe("mix", Measurand.Media,
            Every(10, 0, 6, _ => 18).Concat(Every(10, 0, 24, _ => 18).Where(sample => sample.At >= At(0, 10))));
        var air = Probe("air", Measurand.Air, Every(10, 0, 24, _ => 22));
        var trace = SpotTemperature.Of([air, media]);

        Assert.Equal([Measurand.Media, Measurand.Air, Measurand.Media], trace.Stretches.Select(stretch => stretch.Origin!.Measurand));
        Assert.Equal(Duration.FromHours(24), trace.MeasuredTime);
        Assert.Equal((At(0, 6), At(0, 10)), (trace.Stretches[1].Start, trace.Stretches[1].End));
        Assert.Equal(4 / 24.0, SpotTemperature.Shares(trace)[Measurand.Air], 9);
        Assert.Equal(20 * 8 + 4 * 12, WarmthFold.Over(trace, Limits, DateTimeZone.Utc).Total.Measured.CelsiusHours, 9);
    }

    [Fact]
    public void A_probe_counts_only_while_it_is_on_the_spot()
    {
        var probe = new SpotProbe(
            new(new("wanderer"), Measurand.Air, TwoHours),
            [new Interval(At(0, 2), At(0, 5)), new Interval(At(0, 20), null)],
            [.. Every(10, 0, 24, _ => 20)],
            []);
        var trace = SpotTemperature.Of([probe]);
        Assert.Equal(2, trace.Stretches.Count);
        Assert.Equal(At(0, 5) - Duration.FromMinutes(10), trace.Stretches[0].End);
        Assert.Equal(At(0, 20), trace.Stretches[1].Start);
    }

    [Fact]
    public void An_offset_holds_from_its_date_until_the_next()
    {
        var probe = new SpotProbe(
            new(new("mix"), Measurand.Media, TwoHours),
            [Always],
            [.. Every(60, 0, 4, _ => 20)],
            [new(At(0, 3), TemperatureDifference.FromKelvins(-0.5)), new(At(0, 1), TemperatureDifference.FromKelvins(1))]);
        var trace = SpotTemperature.Of([probe]);
        Assert.Equal([20, 21, 21, 19.5, 19.5], trace.Stretches.Single().Samples.Select(sample => sample.Temperature.Celsius));
        Assert.True(trace.Stretches[0].Origin!.Calibrated);
    }

    [Fact]
    public void The_answer_does_not_depend_on_the_order_of_the_probes()
    {
        SpotProbe[] probes =
        [
            Probe("b", Measurand.Air, Every(10, 0, 24, _ => 22)),
            Probe("a", Measurand.Air, Every(10, 0, 24, _ => 21)),
            Probe("c", Measurand.OutsideSurface, Every(10, 0, 5, _ => 25)),
        ];
        var forward = SpotTemperature.Of(probes);
        var backward = SpotTemperature.Of(probes.Reverse());
        Assert.Equal(["c", "a"], forward.Stretches.Select(stretch => stretch.Origin!.Probe.Text));
        Assert.Equal(forward.Stretches.SelectMany(stretch => stretch.Samples), backward.Stretches.SelectMany(stretch => stretch.Samples));
    }

    [Fact]
    public void A_spot_without_readings_has_an_empty_trace()
    {
        Assert.Null(SpotTemperature.Of([]).Span);
        Assert.Empty(SpotTemperature.Of([Probe("mute", Measurand.Air, [])]).Stretches);
    }

    private static SpotProbe Probe(string name, Measurand measurand, IEnumerable<TemperatureSample> samples) =>
        new(new(new(name), measurand, TwoHours), [Always], [.. samples], []);
}
