using System.Net;
using System.Text;
using Chamber.Mqtt.Broker;
using Chamber.Testing;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>What an account of the built-in broker may write and read, over real connections with password. Names are invented.</summary>
public sealed class BrokerRightsTests : IAsyncLifetime
{
    private const string Password = "a long password";
    private const string Reading = "{\"temperature\": 21}";

    private readonly TempFolder folder = new();
    private readonly IntakeRig rig = new();
    private readonly ListenerOptions listener = new() { Address = IPAddress.Parse(OwnAddress.Find()), Port = FreePort.Next() };
    private readonly List<IMqttClient> clients = [];
    private BuiltInBroker broker = null!;

    private UserFile Users => new(folder.File("users"));

    public async ValueTask InitializeAsync()
    {
        Users.Set("mat-probe", Password);
        Users.Set("bridge", Password, new(["chamber/#", "kitchen/#"], []));
        Users.Set("panel", Password, new([], ["chamber/alerts/#"]));
        rig.Log.Expect("TopicForbidden").Expect("ClientRefused");
        broker = await rig.StartBroker(listener, folder);
    }

    public async ValueTask DisposeAsync()
    {
        clients.ForEach(client => client.Dispose());
        await rig.DisposeAsync();
        folder.Dispose();
    }

    [Fact]
    public async Task A_sensors_account_writes_its_own_probe_and_nothing_else()
    {
        var sensor = await Connected("mat-probe");

        Assert.True(await Takes(Publish(sensor, "chamber/mat-probe/reading")));
        Assert.False(await Takes(Publish(sensor, "chamber/sill-probe/reading")));
        Assert.False(await Takes(Publish(sensor, "kitchen/lamp")));
        Assert.Equal(MqttClientSubscribeResultCode.NotAuthorized, await Subscribe(sensor, "#"));
        Assert.Equal(MqttClientSubscribeResultCode.NotAuthorized, await Subscribe(sensor, "chamber/alerts/#"));

        await rig.Until(() => rig.Readings.Count == 1);
        Assert.Equal("mat-probe", rig.Readings.Single().Probe.Text);
        Assert.Equal(4, broker.Metrics.Refused["rights"]);
        Assert.Equal(4, rig.Log.Lines.Count(line => line.Event.Name == "TopicForbidden"));
    }

    [Fact]
    public async Task An_account_that_is_allowed_more_writes_and_reads_more()
    {
        var (bridge, panel) = (await Connected("bridge"), await Connected("panel"));

        Assert.True(await Takes(Publish(bridge, "chamber/sill-probe/reading")));
        Assert.Equal(MqttClientSubscribeResultCode.GrantedQoS0, await Subscribe(panel, "chamber/alerts/mat/+"));
        Assert.Equal(MqttClientSubscribeResultCode.NotAuthorized, await Subscribe(panel, "chamber/#"));
        Assert.False(await Takes(Publish(panel, "chamber/panel/reading")));
    }

    [Fact]
    public async Task Rights_that_are_taken_away_end_at_the_next_message()
    {
        var bridge = await Connected("bridge");
        Assert.True(await Takes(Publish(bridge, "chamber/sill-probe/reading")));

        Users.Set("bridge", Password, new(["kitchen/#"], []));
        Assert.False(await Takes(Publish(bridge, "chamber/sill-probe/reading")));
        Users.Remove("bridge");
        Assert.False(await Takes(Publish(bridge, "kitchen/lamp")));
    }

    [Fact]
    public async Task A_user_from_before_there_were_rights_keeps_them_all()
    {
        var lines = File.ReadAllLines(folder.File("users"));
        File.WriteAllLines(folder.File("users"), lines.Select(line => string.Join(':', line.Split(':').Take(4))));
        var sensor = await Connected("mat-probe");

        Assert.True(await Takes(Publish(sensor, "chamber/sill-probe/reading")));
        Assert.Equal(MqttClientSubscribeResultCode.GrantedQoS0, await Subscribe(sensor, "#"));
    }

    [Fact]
    public async Task A_client_id_is_not_taken_over_by_another_account()
    {
        await Connected("bridge", id: "one");

        Assert.Equal(MqttClientConnectResultCode.ClientIdentifierNotValid, (await Connect("panel", id: "one")).Result);
        Assert.Equal(1, broker.Metrics.Refused["client id"]);
    }

    // MQTT 5.0, sections 4.7.1 and 4.7.2.
    [Theory]
    [InlineData("chamber/+/reading")]
    [InlineData("chamber/#")]
    [InlineData("$SYS/uptime")]
    [InlineData("chamber/a\u0001b/reading")]
    [InlineData("")]
    public void What_is_no_topic_to_publish_to_is_refused(string topic) => Assert.False(TopicGate.CanBe(topic, lengthMax: 1_000));

    [Fact]
    public void A_topic_has_an_end() =>
        Assert.Equal((true, false), (TopicGate.CanBe(new('a', 1_000), 1_000), TopicGate.CanBe(new('a', 1_001), 1_000)));

    [Theory]
    [InlineData("chamber/shelf/#", "chamber/shelf/reading", true)]
    [InlineData("chamber/shelf/#", "chamber/shelf", true)]
    [InlineData("chamber/shelf/#", "chamber/shelf2/reading", false)]
    [InlineData("chamber/+/reading", "chamber/shelf/reading", true)]
    [InlineData("chamber/+/reading", "chamber/+/reading", true)]
    [InlineData("chamber/+/reading", "chamber/#", false)]
    [InlineData("chamber/shelf/reading", "chamber/+/reading", false)]
    [InlineData("chamber/+", "chamber/a/b", false)]
    [InlineData("chamber/+/reading", "chamber/a", false)]
    [InlineData("#", "#", true)]
    public void A_filter_covers_what_can_match_no_more_than_it(string filter, string asked, bool covers) =>
        Assert.Equal(covers, new AccountRights([], [filter]).MayRead(asked));

    [Theory]
    [InlineData("a/#/b")]
    [InlineData("a+/b")]
    [InlineData("")]
    [InlineData("a\nb")]
    public void A_filter_that_is_none_is_told_with_the_fix(string filter) =>
        Assert.Contains("is no topic filter", Assert.Throws<FormatException>(() => AccountRights.Require(filter)).Message,
            StringComparison.Ordinal);

    private static async Task<bool> Takes(Task<MqttClientPublishReasonCode> publishing) => await publishing switch
    {
        MqttClientPublishReasonCode.Success or MqttClientPublishReasonCode.NoMatchingSubscribers => true,
        MqttClientPublishReasonCode.NotAuthorized => false,
        var other => throw new InvalidOperationException($"The broker said {other}."),
    };

    private static async Task<MqttClientPublishReasonCode> Publish(IMqttClient client, string topic) =>
        (await client.PublishBinaryAsync(topic, Encoding.UTF8.GetBytes(Reading), MqttQualityOfServiceLevel.AtLeastOnce,
            cancellationToken: TestContext.Current.CancellationToken)).ReasonCode;

    private static async Task<MqttClientSubscribeResultCode> Subscribe(IMqttClient client, string filter) =>
        (await client.SubscribeAsync(filter, cancellationToken: TestContext.Current.CancellationToken)).Items.Single().ResultCode;

    private async Task<IMqttClient> Connected(string user, string? id = null)
    {
        var (client, result) = await Connect(user, id ?? user);
        Assert.Equal(MqttClientConnectResultCode.Success, result);
        return client;
    }

    private async Task<(IMqttClient Client, MqttClientConnectResultCode Result)> Connect(string user, string id)
    {
        var client = new MqttClientFactory().CreateMqttClient();
        clients.Add(client);
        var result = await client.ConnectAsync(new MqttClientOptionsBuilder()
            .WithTcpServer(listener.Address.ToString(), listener.Port).WithClientId(id).WithCredentials(user, Password)
            .WithProtocolVersion(MqttProtocolVersion.V500).Build(), TestContext.Current.CancellationToken);
        return (client, result.ResultCode);
    }
}
