using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using NodaTime;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>Values are invented; °F and kelvins are turned into °C by definition.</summary>
public sealed class ChamberPayloadTests
{
    [Fact]
    public void Every_quantity_of_our_own_payload_arrives_in_its_unit_and_time()
    {
        var batch = Decoding.Own(
            """{"temperature": 21.5, "humidity": 63, "moisture": 512, "battery": 87, "at": "2026-11-25T10:59:30+01:00"}""");

        var reading = Assert.Single(batch.Readings);
        Assert.Empty(batch.Refusals);
        Assert.Equal("shelf", reading.Probe.Text);
        Assert.Equal(21.5, reading.Temperature!.Value.Celsius);
        Assert.Equal(63, reading.Humidity!.Value.Percent);
        Assert.Equal(512, reading.Moisture);
        Assert.Equal(87, reading.Battery);
        Assert.Equal(Instant.FromUtc(2026, 11, 25, 9, 59, 30), reading.MeasuredAt);
        Assert.Equal(Decoding.Now, reading.ReceivedAt);
        Assert.Equal(ClockSource.Payload, reading.Clock);
    }

    [Theory]
    [InlineData("""{"temperature": 21.5, "room": {"floor": [1, 2, {"x": null}]}, "ok": true}""")]
    [InlineData("""{"temperature": "21.5"}""")]
    [InlineData("  {\"temperature\": 2.15e1}\r\n")]
    [InlineData("""{"temperature": 99, "temperature": 21.5}""")]
    public void What_else_stands_in_the_object_does_no_harm(string payload)
    {
        var batch = Decoding.Own(payload);

        Assert.Equal(21.5, Assert.Single(batch.Readings).Temperature!.Value.Celsius);
        Assert.Empty(batch.Refusals);
    }

    [Theory]
    [InlineData("", RefusalReason.Missing)]
    [InlineData("{}", RefusalReason.Missing)]
    [InlineData("""{"temp": 21}""", RefusalReason.Missing)]
    [InlineData("""{"temperature": 21""", RefusalReason.Malformed)]
    [InlineData("""{"temperature": 21.5, "humid""", RefusalReason.Malformed)]
    [InlineData("""{"temperature": 21} {"temperature": 22}""", RefusalReason.Malformed)]
    [InlineData("""{"temperature": 21,}""", RefusalReason.Malformed)]
    [InlineData("""{'temperature': 21}""", RefusalReason.Malformed)]
    [InlineData("""[{"temperature": 21}]""", RefusalReason.Malformed)]
    [InlineData("21.5", RefusalReason.Malformed)]
    [InlineData("null", RefusalReason.Malformed)]
    [InlineData("offline", RefusalReason.Malformed)]
    [InlineData("\uFFFE\u0000", RefusalReason.Malformed)]
    [InlineData("""{"a":{"a":{"a":{"a":{"a":{"a":{"a":{"a":{"a":{"a":{"a":{"a":{"a":{"a":{"a":{"a":{"a":1}}}}}}}}}}}}}}}}}""",
        RefusalReason.Malformed)]
    public void A_message_that_is_not_in_the_form_is_refused_whole(string payload, RefusalReason reason)
    {
        var batch = Decoding.Own(payload);

        Assert.Empty(batch.Readings);
        var refusal = batch.OneRefusal();
        Assert.Equal(reason, refusal.Reason);
        Assert.Equal("chamber/shelf/reading", refusal.Source);
        Assert.Equal("shelf", refusal.Probe!.Value.Text);
        Assert.Null(refusal.Quantity);
        Assert.NotEmpty(refusal.Fix);
    }

    [Theory]
    [InlineData("null", RefusalReason.Missing)]
    [InlineData("\"unavailable\"", RefusalReason.Missing)]
    [InlineData("\"NaN\"", RefusalReason.Missing)]
    [InlineData("\"\"", RefusalReason.Missing)]
    [InlineData("\"warm\"", RefusalReason.Malformed)]
    [InlineData("\"21,5\"", RefusalReason.Malformed)]
    [InlineData("\"21.5 °C\"", RefusalReason.Malformed)]
    [InlineData("true", RefusalReason.Malformed)]
    [InlineData("[21.5]", RefusalReason.Malformed)]
    [InlineData("85", RefusalReason.Sentinel)]
    [InlineData("1e400", RefusalReason.Impossible)]
    [InlineData("72", RefusalReason.OtherUnit)]
    public void A_value_that_cannot_be_used_leaves_the_rest_of_the_reading_usable(string value, RefusalReason reason)
    {
        var batch = Decoding.Own($$"""{"temperature": {{value}}, "humidity": 60}""");

        var reading = Assert.Single(batch.Readings);
        Assert.Null(reading.Temperature);
        Assert.Equal(60, reading.Humidity!.Value.Percent);
        Assert.Equal(reason, batch.OneRefusal().Reason);
        Assert.Equal("temperature", batch.OneRefusal().Quantity);
    }

    [Theory]
    [InlineData("""{"temperature": nan, "humidity": 60}""")]
    [InlineData("""{"note": "nan \" nan", "temperature": -NaN, "humidity": 60}""")]
    [InlineData("""{"temperature": Infinity,"humidity":60}""")]
    public void A_bare_nan_is_no_JSON_and_still_spoils_only_its_own_field(string payload)
    {
        var batch = Decoding.Own(payload);

        Assert.Equal(60, Assert.Single(batch.Readings).Humidity!.Value.Percent);
        Assert.Equal(("temperature", RefusalReason.Missing), (batch.OneRefusal().Quantity, batch.OneRefusal().Reason));
    }

    [Fact]
    public void A_payload_above_the_bound_is_refused_unread_and_its_raw_text_is_cut()
    {
        var batch = Decoding.Own("{\"temperature\": 21, \"note\": \"" + new string('x', 70_000) + "\"}");

        Assert.Empty(batch.Readings);
        Assert.Equal(RefusalReason.TooLarge, batch.OneRefusal().Reason);
        Assert.Equal(Refusal.RawLengthMax, batch.OneRefusal().Raw.Length);
    }

    [Theory]
    [InlineData("chamber/shelf/readings", RefusalReason.UnknownTopic)]
    [InlineData("chamber/shelf", RefusalReason.UnknownTopic)]
    [InlineData("chamber/two words/reading", RefusalReason.UnknownProbe)]
    [InlineData("chamber//reading", RefusalReason.UnknownProbe)]
    public void A_topic_that_leads_nowhere_is_refused_by_name(string topic, RefusalReason reason)
    {
        var batch = new MessageDecoder(TopicMap.Default).Decode(Decoding.Message(topic, """{"temperature": 21}"""));

        Assert.Equal(reason, batch.OneRefusal().Reason);
        Assert.Equal(topic, batch.OneRefusal().Source);
    }

    [Fact]
    public void A_bridge_that_makes_up_names_without_end_is_stopped_at_the_bound()
    {
        var decoder = new MessageDecoder(TopicMap.Default, new() { ProbesMax = 3, TopicsMax = 2 });

        var batch = decoder.Decode(
            [.. Enumerable.Range(0, 10).Select(n => Decoding.Message($"chamber/p{n}/reading", """{"temperature": 21}"""))]);

        Assert.Equal(3, batch.Readings.Count);
        Assert.Equal(7, decoder.Refused[RefusalReason.UnknownProbe]);
    }

    [Fact]
    public void Made_up_names_never_lock_out_a_probe_that_was_set_up()
    {
        var decoder = new MessageDecoder(TopicMap.Default, new() { ProbesMax = 3, IsSetUp = probe => probe.Text == "soil" });
        decoder.Decode([.. Enumerable.Range(0, 10).Select(n => Decoding.Message($"chamber/p{n}/reading", """{"temperature": 21}"""))]);

        var batch = decoder.Decode(Decoding.Message("chamber/soil/reading", """{"temperature": 45}"""));

        Assert.Equal(45, Assert.Single(batch.Readings).Temperature!.Value.Celsius);
    }

    [Fact]
    public void A_hot_reading_is_believed_after_a_clock_was_put_back()
    {
        var decoder = new MessageDecoder(TopicMap.Default);
        decoder.Decode(
            Decoding.Message("chamber/soil/reading", """{"temperature": 24}""", receivedAt: Decoding.Now + Duration.FromDays(2)));

        var batch = decoder.Decode(
            Decoding.Message("chamber/soil/reading", """{"temperature": 60}"""),
            Decoding.Message("chamber/soil/reading", """{"temperature": 61}""", receivedAt: Decoding.Now + Duration.FromMinutes(1)));

        Assert.Empty(batch.Refusals);
        Assert.Equal(2, batch.Readings.Count);
    }

    [Fact]
    public void A_hot_reading_is_believed_after_a_restart_by_what_the_journal_knows()
    {
        var last = new TemperatureSample(Decoding.Now - Duration.FromMinutes(10), Temperature.FromCelsius(24));
        var decoder = new MessageDecoder(TopicMap.Default, new() { LastTemperature = _ => last });

        Assert.Empty(decoder.Decode(Decoding.Message("chamber/soil/reading", """{"temperature": 60}""")).Refusals);
    }
}
