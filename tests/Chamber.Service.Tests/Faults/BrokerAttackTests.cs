using System.Globalization;
using System.Net.Sockets;
using Chamber.Mqtt.Broker;
using Chamber.Service.Configuration;
using Chamber.Service.Tests.Mqtt;
using Chamber.Testing;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace Chamber.Service.Tests.Faults;

/// <summary>
/// What somebody may try in order to take the memory of the machine, by tests/cases/faults/broker.csv: the bound counts it, little is held,
/// and a sensor is heard beside it. With CHAMBER_LONG=1 the attacks are ten times as long, and are made on a broker without bounds too; the
/// figures of both are printed.
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
[Collection(MemoryAlone.Name)]
public sealed class BrokerAttackTests(ITestOutputHelper output) : IDisposable
{
    private const int Megabyte = 1024 * 1024;

    private static readonly bool IsLong = Environment.GetEnvironmentVariable("CHAMBER_LONG") == "1";
    private static readonly int Times = IsLong ? 10 : 1;

    // A tenth of the bounds for a tenth of the attack.
    private static readonly BrokerOptions Bounded = IsLong ? BrokerParts.Own(new(), new("."), 65_536)
        : BrokerParts.Own(new(), new("."), 65_536) with
        { SessionsMax = 100, RetainedBytesMax = 400_000, WaitingBytesMax = 1_600_000, ReaderBytesMax = 200_000 };

    private static readonly BrokerOptions Unbounded = new()
    {
        ClientsMax = int.MaxValue,
        ConnectionsOfAddressMax = int.MaxValue,
        ConnectLengthMax = int.MaxValue,
        PacketLengthMax = int.MaxValue,
        RetainedMax = int.MaxValue,
        RetainedBytesMax = long.MaxValue,
        SubscriptionsMax = int.MaxValue,
        SessionsMax = int.MaxValue,
        WaitingBytesMax = long.MaxValue,
        ReaderBytesMax = long.MaxValue,
        ReadersBytesMax = long.MaxValue,
    };

    private readonly TempFolder folder = new();
    private readonly List<IDisposable> open = [];

    public static TheoryData<string, string, int> Cases => [.. FaultCases.Of("broker.csv").Select(line =>
        (line[0], line[1], int.Parse(line[2], CultureInfo.InvariantCulture)))];

    public void Dispose()
    {
        open.ForEach(one => one.Dispose());
        folder.Dispose();
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public async Task An_attack_on_memory_is_counted_and_holds_little(string attack, string counted, int heldMax)
    {
        var held = await Held(attack, Bounded, async broker =>
        {
            await Wait.Until("the bound to count it", () => broker.Metrics.Refused.GetValueOrDefault(counted) > 0);
        });
        output.WriteLine($"{attack}: {held / Megabyte} MB held with bounds");
        Assert.InRange(held, long.MinValue, (long)heldMax * Megabyte * (IsLong ? 2 : 1));
        if (IsLong)
        {
            var before = await Held(attack, Unbounded, _ => Task.CompletedTask);
            output.WriteLine($"{attack}: {before / Megabyte} MB held without");
        }
    }

    private async Task<long> Held(string attack, BrokerOptions bounds, Func<BuiltInBroker, Task> expected)
    {
        await using var rig = new IntakeRig();
        var listener = BuiltInBrokerTests.Loopback();
        await using var broker = await rig.StartBroker(listener, folder, bounds);
        var before = GC.GetTotalMemory(forceFullCollection: true);
        await Attack(attack, listener.Port);
        await expected(broker);
        var held = GC.GetTotalMemory(forceFullCollection: true) - before;

        var sensor = await Connected(listener.Port, "sensor", isKept: false);
        await sensor.PublishBinaryAsync("chamber/mat-probe/reading", "{\"temperature\": 21}"u8.ToArray(),
            MqttQualityOfServiceLevel.AtLeastOnce, cancellationToken: TestContext.Current.CancellationToken);
        await rig.Until(() => rig.Readings.Count == 1);
        open.ForEach(one => one.Dispose());
        open.Clear();
        return held;
    }

    private async Task Attack(string attack, int port)
    {
        switch (attack)
        {
            case "sessions that nobody comes back to":
                for (var i = 0; i < 300 * Times; i++)
                {
                    var client = await Connected(port, $"client-{i}-{new string('x', 1_000)}", isKept: true);
                    await client.DisconnectAsync(cancellationToken: TestContext.Current.CancellationToken);
                }

                break;
            case "retained messages without end":
                await Publish(port, count: 400 * Times, size: 10_000, retain: true);
                break;
            case "messages for somebody who sleeps":
                var sleeper = await Connected(port, "sleeper", isKept: true);
                await sleeper.SubscribeAsync("#", MqttQualityOfServiceLevel.AtLeastOnce, TestContext.Current.CancellationToken);
                await sleeper.DisconnectAsync(cancellationToken: TestContext.Current.CancellationToken);
                await Publish(port, count: 100 * Times, size: 200_000, retain: false);
                break;
            case "messages for somebody who does not read":
                await SubscribeAndReadNothing(port);
                await Publish(port, count: 100 * Times, size: 200_000, retain: false);
                break;
            case "a long packet before anybody is let in":
                for (var i = 0; i < 10; i++)
                {
                    // A CONNECT that says it has a quarter of a gigabyte (MQTT 5.0, section 1.5.5), and no more.
                    await Socket(port, [0x10, 0xFF, 0xFF, 0xFF, 0x7F]);
                }

                break;
            case "subscriptions without end":
                var reader = await Connected(port, "reader", isKept: false);
                for (var i = 0; i < 200 * Times; i++)
                {
                    await reader.SubscribeAsync($"{new string('a', 500)}/{i}/#",
                        cancellationToken: TestContext.Current.CancellationToken);
                }

                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(attack), attack, "No such attack.");
        }
    }

    private async Task Publish(int port, int count, int size, bool retain)
    {
        var client = await Connected(port, "sender", isKept: false);
        for (var i = 0; i < count; i++)
        {
            await client.PublishBinaryAsync($"b/{i}", new byte[size], MqttQualityOfServiceLevel.AtLeastOnce, retain,
                TestContext.Current.CancellationToken);
        }
    }

    // By hand, since a client of a library reads by itself: CONNECT (section 3.1) and SUBSCRIBE to # (section 3.8), MQTT 3.1.1.
    private Task SubscribeAndReadNothing(int port) => Socket(port,
        [0x10, 16, 0, 4, .. "MQTT"u8, 4, 2, 0, 0, 0, 4, .. "slow"u8, 0x82, 6, 0, 1, 0, 1, (byte)'#', 0]);

    private async Task Socket(int port, byte[] bytes)
    {
        var client = new TcpClient { ReceiveBufferSize = 4_096 };
        open.Add(client);
        await client.ConnectAsync("127.0.0.1", port, TestContext.Current.CancellationToken);
        await client.GetStream().WriteAsync(bytes, TestContext.Current.CancellationToken);

        // The first answer says that it was taken in, or the end that it was not.
        _ = await client.GetStream().ReadAsync(new byte[4], TestContext.Current.CancellationToken);
    }

    private async Task<IMqttClient> Connected(int port, string id, bool isKept)
    {
        var client = new MqttClientFactory().CreateMqttClient();
        open.Add(client);
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).WithClientId(id)
            .WithCleanSession(!isKept).WithProtocolVersion(MqttProtocolVersion.V500)
            .WithSessionExpiryInterval(isKept ? 86_400u : 0u).Build(),
            TestContext.Current.CancellationToken);
        return client;
    }
}

/// <summary>What measures the memory of the process runs while nothing else does.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class MemoryAlone
{
    internal const string Name = "memory, alone";
}
