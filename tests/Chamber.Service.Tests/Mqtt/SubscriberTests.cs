using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Mqtt;
using Chamber.Mqtt.Connection;
using Chamber.Testing;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>Against the broker of Debian, with its own command-line clients as the foreign publisher and reader. Numbers are invented; how
/// often a message comes is the promise of each quality of service (MQTT 5.0, section 4.3).</summary>
public sealed class SubscriberTests
{
    private const string Topic = "chamber/shelf/reading";

    [Theory]
    [InlineData(MqttVersion.V5, 0)]
    [InlineData(MqttVersion.V5, 1)]
    [InlineData(MqttVersion.V5, 2)]
    [InlineData(MqttVersion.V311, 0)]
    [InlineData(MqttVersion.V311, 1)]
    public async Task Readings_of_a_foreign_publisher_arrive_in_order(MqttVersion version, int qos)
    {
        await using var mosquitto = await Mosquitto.Start();
        await using var rig = new IntakeRig();
        await rig.Join(Address(mosquitto) with { Version = version });

        await mosquitto.PublishLines(Topic, Numbered(0, 500), qos);

        await rig.Until(() => rig.Temperatures.Count == 500);
        Assert.Equal(Enumerable.Range(0, 500).Select(Number), rig.Temperatures);
        Assert.Empty(rig.Refusals);

        // A batch is acknowledged before the next one is committed.
        await mosquitto.Publish(Topic, Numbered(500, 1).Single(), qos);
        await rig.Until(() => rig.Temperatures.Count == 501);
        Assert.InRange(rig.Intake.Metrics.Acknowledged, qos == 0 ? 0 : 500, qos == 0 ? 0 : 501);
    }

    [Fact]
    public async Task Nothing_is_acknowledged_before_it_is_committed()
    {
        await using var mosquitto = await Mosquitto.Start();
        var committing = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var goOn = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        await using (var first = new IntakeRig())
        {
            first.BeforeCommit = async _ =>
            {
                committing.TrySetResult();
                await goOn.Task;
                throw new OperationCanceledException("The process ended in mid-commit.");
            };
            first.Log.Expect("CommitFailed");
            await first.Join(Address(mosquitto));
            await mosquitto.PublishLines(Topic, Numbered(0, 20));
            await Wait.For("a commit to begin", committing.Task);

            Assert.Equal(0, first.Intake.Metrics.Acknowledged);
            goOn.SetResult();
        }

        // The next run under the same client id gets every one of them again.
        await using var second = new IntakeRig();
        await second.Join(Address(mosquitto));
        await second.Until(() => second.Temperatures.Count >= 20);
        Assert.Equal(Enumerable.Range(0, 20).Select(Number), second.Temperatures);
    }

    [Fact]
    public async Task Readings_published_while_nobody_listens_wait_at_the_broker()
    {
        await using var mosquitto = await Mosquitto.Start();
        await using (var first = new IntakeRig())
        {
            await first.Join(Address(mosquitto));
        }

        await mosquitto.PublishLines(Topic, Numbered(0, 50));

        await using var second = new IntakeRig();
        await second.Join(Address(mosquitto));
        await second.Until(() => second.Temperatures.Count == 50);
    }

    [Fact]
    public async Task A_broker_that_went_away_and_came_back_is_joined_again()
    {
        await using var mosquitto = await Mosquitto.Start();
        await using var rig = new IntakeRig();
        var subscriber = await rig.Join(Address(mosquitto));
        var again = IntakeRig.Connection(subscriber);

        await mosquitto.Stop();
        await mosquitto.StartAgain();
        await again;
        await mosquitto.Publish(Topic, Numbered(7, 1).Single());

        await rig.Until(() => rig.Temperatures.Contains(Number(7)));
        Assert.Equal(2, subscriber.Connections);
        Assert.Null(subscriber.Fault);
        Assert.Contains(rig.Log.Lines, line => line.Event.Name == "ConnectFailed");
    }

    [Fact]
    public async Task A_commit_that_fails_is_tried_again_and_loses_nothing()
    {
        await using var mosquitto = await Mosquitto.Start();
        await using var rig = new IntakeRig(options: new() { RetryWaitMin = TimeSpan.FromMilliseconds(1) });
        rig.Log.Expect("CommitFailed");
        var failures = 3;
        rig.BeforeCommit = _ => failures-- > 0 ? throw new IOException("No space left on device") : Task.CompletedTask;
        await rig.Join(Address(mosquitto));

        await mosquitto.PublishLines(Topic, Numbered(0, 30));

        await rig.Until(() => rig.Temperatures.Count == 30);
        Assert.Equal(3, rig.Intake.Metrics.CommitFailures);
    }

    [Fact]
    public async Task A_queue_that_is_full_makes_the_sender_wait_and_loses_nothing()
    {
        await using var mosquitto = await Mosquitto.Start();
        await using var rig = new IntakeRig(options: new() { QueueLengthMax = 4, BatchLengthMax = 2 });
        await rig.Join(Address(mosquitto));

        await mosquitto.PublishLines(Topic, Numbered(0, 3000));

        await rig.Until(() => rig.Temperatures.Count == 3000);
        Assert.Equal(Enumerable.Range(0, 3000).Select(Number), rig.Temperatures);
    }

    [Fact]
    public async Task A_retained_message_is_last_known_only_unless_it_carries_its_own_time()
    {
        await using var mosquitto = await Mosquitto.Start();
        await mosquitto.Publish("chamber/sill/reading", """{"temperature": 18.5}""", retain: true);
        await mosquitto.Publish("chamber/mat/reading", $$"""{"temperature": 27.5, "at": "{{Stamp()}}"}""", retain: true);
        await using var rig = new IntakeRig();
        await rig.Join(Address(mosquitto));

        await rig.Until(() => rig.LastKnown.Count == 1 && rig.Readings.Count == 1);

        Assert.Equal("sill", rig.LastKnown[0].Probe.Text);
        Assert.Equal(RefusalReason.RetainedWithoutTime, Assert.Single(rig.Refusals).Reason);
        Assert.Equal("mat", rig.Readings[0].Probe.Text);
        Assert.Equal(ClockSource.Payload, rig.Readings[0].Clock);
    }

    [Fact]
    public async Task Wrong_bytes_between_good_readings_are_refused_and_harm_nothing()
    {
        await using var mosquitto = await Mosquitto.Start();
        await using var rig = new IntakeRig();
        await rig.Join(Address(mosquitto));

        await mosquitto.Publish(Topic, Numbered(1, 1).Single());
        await mosquitto.Publish(Topic, "{\"temperature\": 2");
        await mosquitto.Publish(Topic, "");
        await mosquitto.Publish(Topic, "{\"temperature\":21,\"note\":\"" + new string('n', 100_000) + "\"}");
        await mosquitto.Publish("chamber/two words/reading", Numbered(1, 1).Single());
        await mosquitto.Publish(Topic, Numbered(2, 1).Single());

        await rig.Until(() => rig.Temperatures.Count == 2 && rig.Refusals.Count == 4);
        Assert.Equal(
            [RefusalReason.Malformed, RefusalReason.Missing, RefusalReason.TooLarge, RefusalReason.UnknownProbe],
            rig.Refusals.Select(refusal => refusal.Reason));
    }

    [Fact]
    public async Task An_alert_is_retained_until_an_empty_payload_clears_it()
    {
        await using var mosquitto = await Mosquitto.Start();
        await using var rig = new IntakeRig();
        var subscriber = await rig.Join(Address(mosquitto));
        var topic = OwnTopics.Alert("router-shelf", "too-hot");

        Assert.True(
            await subscriber.PublishAsync(topic, "{\"since\":\"now\"}"u8.ToArray(), retain: true, TestContext.Current.CancellationToken));
        await using (var reader = await mosquitto.Subscribe("chamber/alerts/#"))
        {
            await reader.Line(topic + " {\"since\":\"now\"}");
        }

        Assert.True(await subscriber.PublishAsync(topic, ReadOnlyMemory<byte>.Empty, retain: true, TestContext.Current.CancellationToken));
        await using var later = await mosquitto.Subscribe("chamber/#");
        await later.Line(OwnTopics.State + " online");
        Assert.DoesNotContain(topic, later.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_service_state_says_offline_after_a_stop()
    {
        await using var mosquitto = await Mosquitto.Start();
        await using var reader = await mosquitto.Subscribe(OwnTopics.State);
        await using (var rig = new IntakeRig())
        {
            await rig.Join(Address(mosquitto));
            await reader.Line(OwnTopics.State + " online");
        }

        await reader.Line(OwnTopics.State + " offline");
    }

    [Fact]
    public async Task Without_a_connection_publishing_says_no()
    {
        await using var rig = new IntakeRig();
        var subscriber = rig.Subscriber(new() { Port = FreePort.Next() });

        Assert.False(await subscriber.PublishAsync("chamber/alerts/x/y", ReadOnlyMemory<byte>.Empty, retain: true,
            TestContext.Current.CancellationToken));
    }

    internal static BrokerAddress Address(Mosquitto mosquitto) => new() { Port = mosquitto.Port };

    internal static double Number(int index) => Math.Round(15 + index / 1000.0, 3);

    internal static IEnumerable<string> Numbered(int start, int count) =>
        Enumerable.Range(start, count).Select(
            index => string.Create(CultureInfo.InvariantCulture, $$"""{"temperature": {{Number(index)}}, "at": "{{Stamp(index)}}"}"""));

    internal static string Stamp(int index = 0) =>
        TimeProvider.System.GetUtcNow().AddHours(-1).AddMilliseconds(index)
            .ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);
}
