using System.Text;
using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Listening;
using Chamber.Service.Tests.Commands;
using Chamber.Testing;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>What speaks on a broker and how it would be read. Topics and messages are invented; pointers are those of RFC 6901.</summary>
public sealed class ListeningTests
{
    [Theory]
    [InlineData("flat/kitchen", """{ "temperature": 21.4, "humidity": 48, "battery": 90 }""",
        "flat/{probe}: temperature /temperature Cel?, humidity /humidity %, battery /battery %")]
    [InlineData("flat/kitchen/state", """{ "climate": { "temp_f": 70.5 } }""", "flat/{probe}/state: temperature /climate/temp_f [degF]")]
    [InlineData("house/attic/data", """{ "S1": { "Temperature": 19.5, "Humidity": 51.2 }, "since": "boot" }""",
        "house/{probe}/data: temperature /S1/Temperature Cel?, humidity /S1/Humidity %")]
    [InlineData("rooms/attic", """{ "temperature": { "value": 68.9, "unit": "°F" } }""",
        "rooms/{probe}: temperature /temperature/value [degF]")]
    [InlineData("rooms/a~b/attic", """{ "x/y": { "tempC": 18 } }""", "rooms/a~b/{probe}: temperature /x~1y/tempC Cel")]
    [InlineData("flat/attic/temperature", "19.5", "flat/{probe}/temperature: temperature  Cel?")]
    [InlineData("flat/attic/switch", "ON", null)]
    [InlineData("flat/attic/power", """{ "watts": 12 }""", null)]
    [InlineData("flat/attic", """{ "battery": 12 }""", null)]
    public void A_mapping_is_proposed_from_a_message(string topic, string payload, string? expected)
    {
        var proposal = MappingProposal.Of(topic, Encoding.UTF8.GetBytes(payload));
        Assert.Equal(expected, proposal is null ? null : $"{proposal.Mapping.Topic}: " + string.Join(", ", proposal.Found.Select(field =>
            $"{Fixes.NameOf(field.Quantity)} {field.JsonPointer} {field.Unit}{(proposal.Unsure.Contains(field.Quantity) ? "?" : "")}")));
    }

    [Theory]
    [InlineData("flat/kitchen", """{ "temperature": 21.4, "humidity": 48 }""")]
    [InlineData("flat/attic/temperature", "21.4")]
    public void What_is_proposed_reads_the_message(string topic, string payload)
    {
        var map = TopicMap.Create([MappingProposal.Of(topic, Encoding.UTF8.GetBytes(payload))!.Mapping]);
        var batch = new DecodedBatch();
        var at = NodaTime.Instant.FromUtc(2027, 3, 1, 8, 0);
        new MessageDecoder(map).Decode(new(topic, Encoding.UTF8.GetBytes(payload), false, at), batch);
        Assert.Equal(21.4, Assert.Single(batch.Readings).Temperature!.Value.Celsius, 9);
    }

    [Fact]
    public async Task Listen_shows_what_no_mapping_knows_and_takes_it()
    {
        await using var mosquitto = await Mosquitto.Start();
        await mosquitto.Publish("flat/kitchen", """{ "temperature": 21.4 }""", retain: true);
        await mosquitto.Publish("chamber/shelf/reading", "{}", retain: true);
        await mosquitto.Publish("chamber/alerts/shelf/too-hot", "{}", retain: true);
        using var home = new HomeRig();
        home.Write("chamber.json", $$"""{ "broker": { "own": false, "host": "127.0.0.1", "port": {{mosquitto.Port}} } }""");

        // Kept messages come at once; the time is the least that can be asked for.
        var told = await InProcess.Run("listen", "--for", "2s", "--take", "flat/kitchen", "--data", home.Path);
        Assert.True(told.Code == 0, told.Error);
        Assert.Contains("2 topics heard, 1 of them read.", told.Out, StringComparison.Ordinal);
        Assert.Contains("temperature 21.4 °C at /temperature; the unit is a guess", told.Out, StringComparison.Ordinal);
        Assert.Contains("flat/{probe}", File.ReadAllText(home.File("chamber.json")), StringComparison.Ordinal);
        Assert.Contains("2 of them read", (await InProcess.Run("listen", "--for", "2s", "--data", home.Path)).Out,
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_topic_that_no_mapping_knows_is_refused_once()
    {
        using var folder = new TempFolder();
        await using var rig = new IntakeRig();
        var listener = BuiltInBrokerTests.Loopback();
        await using var broker = await rig.StartBroker(listener, folder);
        for (var i = 0; i < 3; i++)
        {
            await BuiltInBrokerTests.Publish(listener.Port, "flat/kitchen", ["21.4"], "-q", "1");
        }

        await BuiltInBrokerTests.Publish(listener.Port, "chamber/shelf/reading", SubscriberTests.Numbered(0, 1), "-q", "1");
        await rig.Until(() => rig.Temperatures.Count == 1);
        var refusal = Assert.Single(rig.Refusals);
        Assert.Equal((RefusalReason.UnknownTopic, "flat/kitchen"), (refusal.Reason, refusal.Source));
        Assert.Contains("chamber listen", refusal.Fix, StringComparison.Ordinal);
    }
}
