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
    public async Task A_joined_broker_leaves_a_trace_of_the_topic_alone()
    {
        await using var mosquitto = await Mosquitto.Start();
        await using var rig = new IntakeRig();
        await mosquitto.Publish("chamber/shelf/reading", """{ "temperature": 20 }""", retain: true);
        await mosquitto.Publish("chamber/alerts/shelf/too-hot", "{}", retain: true);
        await mosquitto.Publish("hub/sensor/shelf/config", "{}", retain: true);
        await mosquitto.Publish("flat/door", "the code is 4711", retain: true);
        rig.Run(new UnmappedEar(new() { Host = "127.0.0.1", Port = mosquitto.Port }, rig.Map, rig.Intake,
            topic => topic.StartsWith("hub/", StringComparison.Ordinal), TimeProvider.System, rig.Log.For<UnmappedEar>()));
        await rig.Until(() => rig.Refusals.Count == 1);

        // What is told already is not told again; the last one shows that the others were heard.
        await mosquitto.Publish("flat/door", "the code is 4711");
        await mosquitto.Publish("flat/last", "1");
        await rig.Until(() => rig.Refusals.Count >= 2);
        Assert.Equal([("flat/door", "(16 bytes, not kept)"), ("flat/last", "(1 byte, not kept)")],
            rig.Refusals.Select(refusal => (refusal.Source, refusal.Raw)));
        Assert.All(rig.Refusals, refusal => Assert.Equal(RefusalReason.UnknownTopic, refusal.Reason));
    }

    [Fact]
    public async Task A_busy_joined_broker_is_listened_to_within_its_hour()
    {
        await using var mosquitto = await Mosquitto.Start();
        await using var rig = new IntakeRig();
        var clock = new Microsoft.Extensions.Time.Testing.FakeTimeProvider();
        rig.Run(new UnmappedEar(new() { Host = "127.0.0.1", Port = mosquitto.Port }, rig.Map, rig.Intake, _ => false, clock,
            rig.Log.For<UnmappedEar>()));
        await mosquitto.Publish("flat/first", "1", retain: true);
        await rig.Until(() => rig.Refusals.Count == 1);

        // Two pictures of 9 MB are more than an hour has; the second is heard and no longer told.
        using var folder = new TempFolder();
        var picture = folder.Write("picture", new string('x', 9_000_000));
        await mosquitto.PublishFile("flat/camera-1", picture);
        await mosquitto.PublishFile("flat/camera-2", picture);
        await Wait.Until("the ear to leave",
            () => mosquitto.Log.Contains("Client chamber-unmapped disconnected", StringComparison.Ordinal));
        await mosquitto.Publish("flat/later", "1", retain: true);
        await Wait.Until("the next hour", () =>
        {
            clock.Advance(TimeSpan.FromHours(1));
            return rig.Refusals.Any(refusal => refusal.Source == "flat/later");
        });
        Assert.Equal(["flat/first", "flat/camera-1", "flat/later"], rig.Refusals.Select(refusal => refusal.Source));
    }

    [Fact]
    public async Task Where_nothing_else_is_heard_refusals_and_probes_say_so()
    {
        using var home = new HomeRig();
        Assert.DoesNotContain("traceUnmapped", (await home.Run("refusals")).Out, StringComparison.Ordinal);
        home.Write("chamber.json", """{ "broker": { "traceUnmapped": false } }""");
        Assert.Contains("Topics without a mapping leave no trace", (await home.Run("refusals")).Out, StringComparison.Ordinal);
        Assert.Contains("Topics without a mapping leave no trace", (await home.Run("probes")).Out, StringComparison.Ordinal);
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
