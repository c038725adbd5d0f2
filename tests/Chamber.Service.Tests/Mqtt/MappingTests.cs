using System.Text.Json;
using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using Chamber.Testing;
using Json.Pointer;
using NodaTime;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>Foreign payloads by configuration and with no code.</summary>
public sealed class MappingTests
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web);

    /// <summary>Every example of RFC 6901 (Bryan, Zyp &amp; Nottingham, 2013), section 5.</summary>
    [Theory]
    [InlineData("/foo", """["bar", "baz"]""")]
    [InlineData("/foo/0", "\"bar\"")]
    [InlineData("/", "0")]
    [InlineData("/a~1b", "1")]
    [InlineData("/c%d", "2")]
    [InlineData("/e^f", "3")]
    [InlineData("/g|h", "4")]
    [InlineData("/i\\j", "5")]
    [InlineData("/k\"l", "6")]
    [InlineData("/ ", "7")]
    [InlineData("/m~0n", "8")]
    public void The_JSON_Pointers_of_the_standard_find_what_it_says(string text, string expected)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(SourceTree.Path("tests", "cases", "json-pointer", "document.json")));

        Assert.Equal(expected, JsonPointer.Parse(text).Evaluate(document.RootElement)!.Value.GetRawText());
    }

    [Fact]
    public void The_numbers_of_the_standards_example_document_arrive_through_a_mapping()
    {
        var decoder = Decoding.With(new TopicMapping
        {
            Topic = "lab/{probe}",
            Form = PayloadForm.Json,
            Temperature = new("/m~0n", "Cel"),
            Humidity = new("/k\"l", "%"),
            Moisture = new("/", "{raw}"),
            Battery = new("/a~1b", "%"),
        });

        var batch = decoder.Decode(
            Decoding.Message("lab/bench", File.ReadAllText(SourceTree.Path("tests", "cases", "json-pointer", "document.json"))));

        var reading = Assert.Single(batch.Readings);
        Assert.Equal((8.0, 6.0, 0.0, 1.0),
            (reading.Temperature!.Value.Celsius, reading.Humidity!.Value.Percent, reading.Moisture, reading.Battery));
    }

    [Fact]
    public void A_foreign_payload_in_Fahrenheit_is_read_by_configuration_alone()
    {
        const string configuration = """
            [
              {
                "topic": "bridge/+/{probe}/status",
                "form": "json",
                "probes": { "Boiler cupboard": "boiler-cupboard" },
                "temperature": { "pointer": "/sensors/0/temp", "unit": "[degF]" },
                "humidity": { "pointer": "/sensors/0/rh", "unit": "1" },
                "battery": { "pointer": "/power/level", "unit": "%" },
                "time": { "pointer": "/when", "form": "epochMilliseconds" }
              },
              { "topic": "plain/{probe}/celsius", "form": "number", "quantity": "temperature", "unit": "Cel" },
              { "topic": "packs", "form": "senml", "names": { "dev:{probe}": {} } }
            ]
            """;
        var decoder = new MessageDecoder(TopicMap.Create(JsonSerializer.Deserialize<TopicMapping[]>(configuration, Json)!));

        var batch = decoder.Decode(
            Decoding.Message("bridge/flat/Boiler cupboard/status",
                """{"sensors": [{"temp": 68.9, "rh": 0.55}], "power": {"level": "91"}, "when": 1795600740500}"""),
            Decoding.Message("plain/sill/celsius", " 18.25\n"),
            Decoding.Message("packs", """[{"n": "dev:mat", "u": "K", "v": 294.65}]"""));

        Assert.Empty(batch.Refusals);
        Assert.Equal(["boiler-cupboard", "sill", "mat"], batch.Readings.Select(reading => reading.Probe.Text));
        Assert.Equal([20.5, 18.25, 21.5], batch.Readings.Select(reading => Math.Round(reading.Temperature!.Value.Celsius, 9)));
        Assert.Equal(55, batch.Readings[0].Humidity!.Value.Percent, 9);
        Assert.Equal(91, batch.Readings[0].Battery);
        Assert.Equal(Instant.FromUnixTimeMilliseconds(1795600740500), batch.Readings[0].MeasuredAt);
    }

    [Theory]
    [InlineData("""{"a": {"t": 21}}""", null)]
    [InlineData("""{"a": {"t": 21}, "h": 200}""", RefusalReason.Impossible)]
    [InlineData("""{"a": {"t": 21}, "h": null}""", RefusalReason.Missing)]
    [InlineData("""{"a": {"t": 21}, "h": {"x": 1}}""", RefusalReason.Malformed)]
    public void A_field_that_is_not_there_is_no_fault_and_one_that_is_wrong_is(string payload, RefusalReason? reason)
    {
        var batch = Nested().Decode(Decoding.Message("n/x", payload));

        Assert.Equal(21, Assert.Single(batch.Readings).Temperature!.Value.Celsius);
        Assert.Equal(reason, batch.Refusals.SingleOrDefault()?.Reason);
    }

    [Theory]
    [InlineData("""{"b": 1}""", RefusalReason.Missing)]
    [InlineData("""[1, 2]""", RefusalReason.Missing)]
    [InlineData("""{"a": {"t": 21}""", RefusalReason.Malformed)]
    public void A_message_with_none_of_the_fields_is_refused(string payload, RefusalReason reason)
    {
        var batch = Nested().Decode(Decoding.Message("n/x", payload));

        Assert.Empty(batch.Readings);
        Assert.Equal(reason, batch.OneRefusal().Reason);
    }

    [Theory]
    [InlineData("21.5", null)]
    [InlineData("+21.5", null)]
    [InlineData("2.15e1", null)]
    [InlineData("\t21.5\r\n", null)]
    [InlineData("unavailable", RefusalReason.Missing)]
    [InlineData("NaN", RefusalReason.Missing)]
    [InlineData("   ", RefusalReason.Missing)]
    [InlineData("21,5", RefusalReason.Malformed)]
    [InlineData("21.5 C", RefusalReason.Malformed)]
    [InlineData("0x15", RefusalReason.Malformed)]
    [InlineData("{\"t\": 21.5}", RefusalReason.Malformed)]
    [InlineData("127.94", RefusalReason.Sentinel)]
    public void A_bare_number_is_a_number_and_nothing_else(string payload, RefusalReason? reason)
    {
        var decoder = Decoding.With(
            new TopicMapping { Topic = "t/{probe}", Form = PayloadForm.Number, Quantity = Quantity.Temperature, Unit = "Cel" });

        var batch = decoder.Decode(Decoding.Message("t/sill", payload));

        Assert.Equal(reason, batch.Refusals.SingleOrDefault()?.Reason);
        Assert.Equal(reason is null ? [21.5] : [], batch.Readings.Select(reading => reading.Temperature!.Value.Celsius));
    }

    [Fact]
    public void A_confirmed_unit_is_no_longer_doubted()
    {
        var doubted = new TopicMapping { Topic = "t/{probe}", Form = PayloadForm.Number, Quantity = Quantity.Temperature, Unit = "Cel" };

        Assert.Equal(RefusalReason.OtherUnit, Decoding.With(doubted).Decode(Decoding.Message("t/stove", "72")).OneRefusal().Reason);
        Assert.Single(Decoding.With(doubted with { UnitConfirmed = true }).Decode(Decoding.Message("t/stove", "72")).Readings);
    }

    /// <summary>MQTT 5.0 (OASIS, 2019), the examples of sections 4.7.1.2, 4.7.1.3 and 4.7.2.</summary>
    [Theory]
    [InlineData("sport/tennis/player1/#", "sport/tennis/player1", true)]
    [InlineData("sport/tennis/player1/#", "sport/tennis/player1/ranking", true)]
    [InlineData("sport/tennis/player1/#", "sport/tennis/player1/score/wimbledon", true)]
    [InlineData("sport/#", "sport", true)]
    [InlineData("#", "a/b/c", true)]
    [InlineData("sport/tennis/+", "sport/tennis/player1", true)]
    [InlineData("sport/tennis/+", "sport/tennis/player1/ranking", false)]
    [InlineData("sport/+", "sport", false)]
    [InlineData("sport/+", "sport/", true)]
    [InlineData("+/+", "/finance", true)]
    [InlineData("/+", "/finance", true)]
    [InlineData("+", "/finance", false)]
    [InlineData("#", "$SYS/uptime", false)]
    [InlineData("+/monitor/Clients", "$SYS/monitor/Clients", false)]
    [InlineData("$SYS/#", "$SYS/", true)]
    [InlineData("$SYS/monitor/+", "$SYS/monitor/Clients", true)]
    [InlineData("{probe}/x", "$SYS/x", false)]
    public void Topic_patterns_match_as_the_standard_says(string pattern, string topic, bool matches)
    {
        Assert.True(TopicPattern.TryParse(pattern, out var parsed, out _));
        Assert.Equal(matches, parsed.Matches(topic, out _));
    }

    [Theory]
    [InlineData("""{"topic": "", "form": "number"}""", "the topic is empty")]
    [InlineData("""{"topic": "a/#/b"}""", "# stands alone and last in a topic")]
    [InlineData("""{"topic": "a+/b"}""", "+ stands for a whole level of a topic")]
    [InlineData("""{"topic": "a/{probe}x"}""", "{probe} stands for a whole level of a topic")]
    [InlineData("""{"topic": "{probe}/{probe}"}""", "the topic names {probe} more than once")]
    [InlineData("""{"topic": "a/b"}""", "nothing names the probe: write {probe} for a level of the topic, or give \"probe\"")]
    [InlineData("""{"topic": "a/{probe}", "probe": "sill"}""", "the probe is named twice: by {probe} in the topic and by \"probe\"")]
    [InlineData("""{"topic": "a/b", "probe": "two words"}""",
        "\"two words\" cannot name a probe: use 1 to 48 letters, digits, '-', '_' or '.', starting with a letter or digit")]
    [InlineData("""{"topic": "a/{probe}", "form": "json"}""",
        "give \"temperature\", \"humidity\", \"moisture\" or \"battery\" with its pointer and unit")]
    [InlineData("""{"topic": "a/{probe}", "form": "json", "temperature": {"pointer": "t", "unit": "Cel"}}""",
        "\"t\" is no JSON Pointer (RFC 6901): write /member/0/member, with ~1 for / and ~0 for ~")]
    [InlineData("""{"topic": "a/{probe}", "form": "json", "temperature": {"pointer": "/t", "unit": "C"}}""",
        "\"C\" is no unit of temperature: declare Cel, [degF] or K")]
    [InlineData("""{"topic": "a/{probe}", "form": "json", "humidity": {"pointer": "/t", "unit": "Cel"}}""",
        "\"Cel\" is no unit of humidity: declare % or 1")]
    [InlineData("""{"topic": "a/{probe}", "form": "number", "unit": "Cel"}""",
        "give \"quantity\": temperature, humidity, moisture or battery")]
    [InlineData("""{"topic": "a/{probe}", "form": "number", "quantity": "temperature"}""",
        "\"\" is no unit of temperature: declare Cel, [degF] or K")]
    [InlineData("""{"topic": "a", "form": "senml"}""", "give \"names\": what each SenML name stands for")]
    [InlineData("""{"topic": "a", "form": "senml", "names": {"x": {}}}""",
        "nothing names the probe of \"x\": give \"probe\", or write {probe} in the name or the topic")]
    public void A_mapping_that_is_wrong_says_where_and_what_to_do(string mapping, string message)
    {
        var parsed = JsonSerializer.Deserialize<TopicMapping>(mapping, Json)!;

        Assert.False(TopicMap.TryCreate([parsed], out _, out var errors));
        Assert.Equal($"mappings[0] (topic \"{parsed.Topic}\"): {message}", Assert.Single(errors));
    }

    private static MessageDecoder Nested() => Decoding.With(new TopicMapping
    {
        Topic = "n/{probe}",
        Form = PayloadForm.Json,
        Temperature = new("/a/t", "Cel"),
        Humidity = new("/h", "%"),
    });
}
