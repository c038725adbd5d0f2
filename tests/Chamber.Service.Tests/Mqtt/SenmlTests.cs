using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>Against the examples of RFC 8428 (Jennings et al., 2018), section 5.1, and its rules of section 4.</summary>
public sealed class SenmlTests
{
    private readonly MessageDecoder decoder = Decoding.With(new TopicMapping
    {
        Topic = "senml/#",
        Form = PayloadForm.Senml,
        Names = new Dictionary<string, SenmlName>
        {
            ["urn:dev:ow:10e2073a01080063"] = new(Probe: "attic"),
            ["urn:dev:ow:10e2073a01080063:voltage"] = new(Quantity.Moisture, "attic"),
            ["urn:dev:ow:{probe}:temp"] = new(Quantity.Temperature),
            ["{probe}/rh"] = new(Quantity.Humidity, Unit: "%RH"),
        },
    });

    [Fact]
    public void The_single_datapoint_of_the_standard_is_one_temperature()
    {
        var batch = Example("single");

        var reading = Assert.Single(batch.Readings);
        Assert.Equal("attic", reading.Probe.Text);
        Assert.Equal(23.1, reading.Temperature!.Value.Celsius, 12);
        Assert.Equal((Decoding.Now, ClockSource.Arrival), (reading.MeasuredAt, reading.Clock));
        Assert.Empty(batch.Refusals);
    }

    [Fact]
    public void A_volt_is_no_unit_of_moisture_and_a_current_has_no_mapping_in_SenML()
    {
        var batch = Example("multiple");

        Assert.Empty(batch.Readings);
        Assert.Equal([RefusalReason.UnknownUnit, RefusalReason.UnknownProbe], batch.Refusals.Select(refusal => refusal.Reason));
        Assert.Equal("urn:dev:ow:10e2073a01080063:current", batch.Refusals[1].Raw);
    }

    [Fact]
    public void The_measurements_of_the_standard_resolve_to_its_own_times_and_values()
    {
        var batch = Example("measurements", Instant.FromUnixTimeSeconds(1320067644));

        // RFC 8428 section 5.1.4, "Resolved Data".
        Assert.Equal(
            [(1320067464L, (double?)20.0, (double?)null), (1320067524L, 20.3, null), (1320067584L, 20.7, null), (1320067614L, null, 98.0),
                (1320067644L, 21.2, null)],
            batch.Readings.Select(reading => (reading.MeasuredAt.ToUnixTimeSeconds(), reading.Humidity?.Percent, reading.Battery)));
        Assert.All(batch.Readings, reading => Assert.Equal(ClockSource.Payload, reading.Clock));
        Assert.Equal(8, batch.Refusals.Count(refusal => refusal.Reason == RefusalReason.UnknownUnit));
        Assert.Equal(8, batch.Refusals.Count);
    }

    [Fact]
    public void Base_times_and_relative_offsets_of_the_standard_add_up()
    {
        var decoder = Decoding.With(new TopicMapping
        {
            Topic = "senml/#",
            Form = PayloadForm.Senml,

            // The standard's amperes stand in for a raw scale, because no quantity here is a current.
            Names = new Dictionary<string, SenmlName> { ["urn:dev:ow:10e2073a0108006:current"] = new(Quantity.Moisture, "attic") },
        });
        var payload = Text("times").Replace("\"bu\":\"A\"", "\"bu\":\"{A}\"", StringComparison.Ordinal);

        var batch = decoder.Decode(Decoding.Message("senml/x", payload, receivedAt: Instant.FromUnixTimeSeconds(1276020080)));

        Assert.Equal(
            [(1276020071001L, (double?)1.2), (1276020072001L, 1.3), (1276020073001L, 1.4), (1276020074001L, 1.5), (1276020075001L, 1.6),
                (1276020076001L, 1.7)],
            batch.Readings.Select(reading => (reading.MeasuredAt.ToUnixTimeMilliseconds(), reading.Moisture)));
    }

    [Theory]
    [InlineData("""[{"n": "urn:dev:ow:sill:temp", "u": "Cel", "v": 20, "t": -60}]""", -60, ClockSource.Payload)]
    [InlineData("""[{"n": "urn:dev:ow:sill:temp", "u": "Cel", "v": 20, "bt": -120, "t": 60}]""", -60, ClockSource.Payload)]
    [InlineData("""[{"n": "urn:dev:ow:sill:temp", "u": "Cel", "v": 20, "t": 268435455}]""", 0, ClockSource.Arrival)]
    [InlineData("""[{"n": "urn:dev:ow:sill:temp", "u": "Cel", "v": 20, "t": 0}]""", 0, ClockSource.Arrival)]
    [InlineData("""[{"n": "urn:dev:ow:sill:temp", "u": "Cel", "v": 20, "t": 1795600740}]""", -60, ClockSource.Payload)]
    public void A_time_below_two_to_the_28_is_relative_to_now(string payload, int seconds, ClockSource clock)
    {
        var reading = Assert.Single(decoder.Decode(Decoding.Message("senml/x", payload)).Readings);

        Assert.Equal((Decoding.Now + Duration.FromSeconds(seconds), clock), (reading.MeasuredAt, reading.Clock));
    }

    [Fact]
    public void Records_of_one_probe_and_time_become_one_reading_and_base_values_add()
    {
        var batch = decoder.Decode(Decoding.Message("senml/x",
            """[{"bn": "mat/", "n": "rh", "bt": 1795600740, "v": 60}, {"bn": "urn:dev:ow:mat:", "n": "temp", "bu": "Cel", "bv": 20, "v": 1.5}, {"n": "temp", "t": 30, "v": 1.75}]"""));

        Assert.Empty(batch.Refusals);
        Assert.Equal(
            [((double?)21.5, (double?)60.0), (21.75, null)],
            batch.Readings.Select(reading => (reading.Temperature?.Celsius, reading.Humidity?.Percent)));
    }

    [Theory]
    [InlineData("""{"n": "urn:dev:ow:sill:temp", "u": "Cel", "v": 20}""")]
    [InlineData("""[21]""")]
    [InlineData("""[{"bver": 11, "n": "urn:dev:ow:sill:temp", "u": "Cel", "v": 20}]""")]
    [InlineData("""[{"n": "urn:dev:ow:sill:temp", "u": "Cel", "v": 20, "new_": 1}]""")]
    [InlineData("""[{"bt": "now", "n": "urn:dev:ow:sill:temp", "u": "Cel", "v": 20}]""")]
    [InlineData("""[{"bn": "urn:dev:ow:sill:temp", "bu": "Cel", "v": 20}, """)]
    public void A_pack_that_breaks_the_standard_is_refused_whole(string payload)
    {
        var batch = decoder.Decode(Decoding.Message("senml/x", payload));

        Assert.Empty(batch.Readings);
        Assert.Equal(RefusalReason.Malformed, batch.OneRefusal().Reason);
    }

    [Theory]
    [InlineData("""[{"n": "urn:dev:ow:sill:temp", "v": 20}]""", RefusalReason.UnknownUnit)]
    [InlineData("""[{"n": "urn:dev:ow:sill:temp", "u": "%RH", "v": 20}]""", RefusalReason.UnknownUnit)]
    [InlineData("""[{"n": "urn:dev:ow:sill:temp", "u": "Cel"}]""", RefusalReason.Missing)]
    [InlineData("""[{"n": "urn:dev:ow:sill:temp", "u": "Cel", "v": "warm"}]""", RefusalReason.Malformed)]
    [InlineData("""[{"n": "urn:dev:ow:sill:temp", "u": "Cel", "v": 85}]""", RefusalReason.Sentinel)]
    [InlineData("""[{"n": "urn:dev:ow:two words:temp", "u": "Cel", "v": 20}]""", RefusalReason.UnknownProbe)]
    [InlineData("""[]""", RefusalReason.Missing)]
    [InlineData("""[{"n": "urn:dev:ow:sill:door", "vb": true}]""", RefusalReason.Missing)]
    public void A_record_that_cannot_be_used_says_why(string payload, RefusalReason reason)
    {
        var batch = decoder.Decode(Decoding.Message("senml/x", payload));

        Assert.Empty(batch.Readings);
        Assert.Equal(reason, batch.OneRefusal().Reason);
    }

    private static string Text(string name) => File.ReadAllText(SourceTree.Path("tests", "cases", "senml", name + ".json"));

    private DecodedBatch Example(string name, Instant? receivedAt = null) =>
        decoder.Decode(Decoding.Message("senml/x", Text(name), receivedAt: receivedAt));
}
