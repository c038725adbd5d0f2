using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Mqtt.Connection;
using Chamber.Mqtt.Decoding;
using Chamber.Testing;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>A mapping that is taken while the service runs is in force from the next message on. Topics and numbers are invented.</summary>
public sealed class ChangedMappingsTests
{
    private const string Topic = "flat/ledge";

    private static readonly TopicMapping Ledge = new()
    {
        Topic = Topic,
        Form = PayloadForm.Json,
        Probe = "ledge",
        Temperature = new("/t", "Cel"),
        Time = new("/at", TimeForm.Rfc3339),
    };

    [Fact]
    public async Task A_broker_that_was_joined_is_asked_for_the_new_topic()
    {
        await using var mosquitto = await Mosquitto.Start();
        await using var rig = new IntakeRig(TopicMap.Create([]));
        await rig.Join(new BrokerAddress { Host = "127.0.0.1", Port = mosquitto.Port });
        await mosquitto.Publish(Topic, Payload(21.5), retain: true);

        rig.Map.Change([Ledge]);

        await rig.Until(() => rig.Temperatures.Count == 1);
        Assert.Equal((21.5, new ProbeId("ledge")), (rig.Temperatures[0], rig.Readings[0].Probe));
    }

    [Fact]
    public async Task What_was_refused_as_unknown_is_read_once_it_has_a_mapping()
    {
        using var folder = new TempFolder();
        await using var rig = new IntakeRig(TopicMap.Create([]));
        var port = FreePort.Next();
        await using var broker = await rig.StartBroker(new() { Port = port }, folder);
        await Publish(port, Payload(20));
        await rig.Until(() => rig.Refusals.Count == 1);
        Assert.Equal(RefusalReason.UnknownTopic, rig.Refusals[0].Reason);

        rig.Map.Change([Ledge]);
        await Publish(port, Payload(21.5));

        await rig.Until(() => rig.Temperatures.Count == 1);
        Assert.Equal(21.5, rig.Temperatures[0]);
    }

    [Fact]
    public void A_wrong_mapping_changes_nothing()
    {
        var map = TopicMap.Create([Ledge]);

        Assert.Throws<FormatException>(() => map.Change([Ledge with { Temperature = new("no pointer", "Cel") }]));
        Assert.True(map.Knows(Topic));
    }

    private static async Task Publish(int port, string payload) => (await RunningProgram.Run("mosquitto_pub",
        ["-h", "127.0.0.1", "-p", port.ToString(CultureInfo.InvariantCulture), "-q", "1", "-t", Topic, "-m", payload])).Succeeded();

    private static string Payload(double celsius) => string.Create(CultureInfo.InvariantCulture,
        $$"""{"t":{{celsius}},"at":"{{TimeProvider.System.GetUtcNow():yyyy-MM-ddTHH:mm:ssZ}}"}""");
}
