using System.Net;
using Chamber.Mqtt.Broker;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;
using MQTTnet;
using MQTTnet.Protocol;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>What clients may make the built-in broker hold for them; the bounds are the program's own.</summary>
public sealed class BrokerBoundsTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly FakeTimeProvider clock = new(new(2027, 3, 1, 8, 0, 0, TimeSpan.Zero));

    public void Dispose() => folder.Dispose();

    [Fact]
    public void The_session_left_longest_ago_makes_room_for_a_new_client()
    {
        var sessions = new BrokerSessions(new() { SessionsMax = 2, SessionKept = TimeSpan.FromHours(1) }, clock);
        sessions.Come("old", "");
        sessions.Come("young", "");
        sessions.Leave("old");
        clock.Advance(TimeSpan.FromMinutes(10));
        sessions.Leave("young");

        Assert.Equal(["old"], sessions.Outlived("new"));
        Assert.Empty(sessions.Outlived("young"));
        clock.Advance(TimeSpan.FromMinutes(51));
        Assert.Equal(["old"], sessions.Outlived("young"));
        clock.Advance(TimeSpan.FromMinutes(10));
        Assert.Equal(["old", "young"], sessions.Outlived("new"));
    }

    [Fact]
    public void A_session_is_gone_once_it_has_ended_and_nobody_is_there()
    {
        var sessions = new BrokerSessions(new() { SessionsMax = 1 }, clock);
        sessions.Come("lamp", "anna");
        Assert.Equal((true, true), sessions.Look("lamp", "ben"));

        // A connection that takes over comes before the other has gone.
        sessions.Come("lamp", "anna");
        sessions.Leave("lamp");
        Assert.Equal((false, true), sessions.Look("lamp", "anna"));
        sessions.Forget("lamp");
        sessions.Leave("lamp");
        Assert.Equal((false, false), sessions.Look("lamp", "ben"));
        Assert.Empty(sessions.Outlived("new"));
    }

    [Fact]
    public void What_waits_for_clients_that_have_gone_is_bounded()
    {
        var sessions = new BrokerSessions(new() { WaitingBytesMax = 100 }, clock);
        sessions.Come("one", "");
        sessions.Come("two", "");
        Assert.True(sessions.MayWait("one", 1_000));
        sessions.Sent("one", 1_000);
        sessions.Leave("one");
        sessions.Leave("two");

        Assert.True(sessions.MayWait("one", 60));
        Assert.False(sessions.MayWait("two", 60));
        sessions.Come("one", "");
        Assert.True(sessions.MayWait("two", 60));
        sessions.Forget("two");
        sessions.Sent("one", 60);
        sessions.Leave("one");
        Assert.True(sessions.MayWait("one", 100));
    }

    [Fact]
    public void A_slow_reader_has_a_bound_and_takes_nothing_from_a_quick_one()
    {
        var sessions = new BrokerSessions(new() { ReaderBytesMax = 100, ReadersBytesMax = 150 }, clock);
        foreach (var client in new[] { "slow", "slower", "quick" })
        {
            sessions.Come(client, "");
        }

        Assert.True(sessions.MayWait("slow", 50) && sessions.MayWait("slow", 50));
        Assert.False(sessions.MayWait("slow", 1));
        Assert.True(sessions.MayWait("slower", 50));
        Assert.False(sessions.MayWait("slower", 1));
        for (var i = 0; i < 100; i++)
        {
            Assert.True(sessions.MayWait("quick", 90));
            sessions.Sent("quick", 90);
        }

        sessions.Sent("slow", 50);
        Assert.True(sessions.MayWait("slow", 50));
        Assert.False(sessions.MayWait("slow", 1));
        sessions.Leave("slow");
        sessions.Forget("slow");
        Assert.True(sessions.MayWait("slower", 50));
    }

    [Fact]
    public void Who_guesses_passwords_is_not_listened_to_for_the_rest_of_the_minute()
    {
        var tries = new PasswordTries(most: 3, clock);
        for (var i = 0; i < 3; i++)
        {
            Assert.False(tries.IsOver(IPAddress.Loopback));
            tries.Wrong(IPAddress.Loopback);
        }

        Assert.True(tries.IsOver(IPAddress.Loopback));
        Assert.False(tries.IsOver(IPAddress.IPv6Loopback));
        clock.Advance(TimeSpan.FromMinutes(1));
        Assert.False(tries.IsOver(IPAddress.Loopback));
    }

    [Theory]
    [InlineData("shelf", "shelf")]
    [InlineData("a\nb\u001b[31m", "a?b?[31m")]
    [InlineData(null, "")]
    public void What_strangers_send_is_fit_for_a_log(string? text, string shown) => Assert.Equal(shown, StrangerText.Of(text));

    [Fact]
    public void A_long_name_is_cut_for_the_log() => Assert.Equal(81, StrangerText.Of(new string('x', 8_000)).Length);

    [Fact]
    public async Task A_client_cannot_subscribe_without_end()
    {
        await using var rig = new IntakeRig();
        var listener = new ListenerOptions { Port = FreePort.Next() };
        await using var broker = await rig.StartBroker(listener, folder, new() { SubscriptionsMax = 2 });
        using var client = await Connected(listener.Port, "reader");

        Assert.Equal(MqttClientSubscribeResultCode.GrantedQoS0, await Subscribe(client, "a/1"));
        Assert.Equal(MqttClientSubscribeResultCode.GrantedQoS0, await Subscribe(client, "a/2"));
        Assert.Equal(MqttClientSubscribeResultCode.GrantedQoS0, await Subscribe(client, "a/2"));
        Assert.Equal(MqttClientSubscribeResultCode.QuotaExceeded, await Subscribe(client, "a/3"));
        await client.UnsubscribeAsync("a/1", TestContext.Current.CancellationToken);
        Assert.Equal(MqttClientSubscribeResultCode.GrantedQoS0, await Subscribe(client, "a/3"));
        Assert.Equal(1, broker.Metrics.Refused["subscriptions"]);
    }

    [Fact]
    public async Task Retained_messages_and_those_that_wait_have_a_bound_in_bytes()
    {
        await using var rig = new IntakeRig();
        var listener = new ListenerOptions { Port = FreePort.Next() };
        await using var broker = await rig.StartBroker(listener, folder, new() { RetainedBytesMax = 3_000, WaitingBytesMax = 1_500 });
        using var sleeper = await Connected(listener.Port, "sleeper", isKept: true);
        await Subscribe(sleeper, "b/#");
        await sleeper.DisconnectAsync(cancellationToken: TestContext.Current.CancellationToken);
        using var sender = await Connected(listener.Port, "sender");
        for (var i = 0; i < 8; i++)
        {
            await sender.PublishBinaryAsync($"b/{i}", new byte[1_000], MqttQualityOfServiceLevel.AtLeastOnce, retain: true,
                TestContext.Current.CancellationToken);
        }

        // The first may have come while the sleeper was still leaving.
        await Wait.Until("all to be handed on", () => broker.Metrics.Refused.GetValueOrDefault("waiting bytes") >= 6);
        Assert.Equal(6, broker.Metrics.Refused["retained"]);
    }

    private static async Task<MqttClientSubscribeResultCode> Subscribe(IMqttClient client, string topic) =>
        (await client.SubscribeAsync(topic, cancellationToken: TestContext.Current.CancellationToken)).Items.Single().ResultCode;

    private static async Task<IMqttClient> Connected(int port, string id, bool isKept = false)
    {
        var client = new MqttClientFactory().CreateMqttClient();
        await client.ConnectAsync(
            new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).WithClientId(id).WithCleanSession(!isKept)
                .WithProtocolVersion(MQTTnet.Formatter.MqttProtocolVersion.V500).WithSessionExpiryInterval(isKept ? 3_600u : 0u).Build(),
            TestContext.Current.CancellationToken);
        return client;
    }
}
