using System.Net.Sockets;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace Chamber.Testing;

/// <summary>What somebody may try in order to take the memory of the machine by a broker on this machine; at disposal all its connections
/// end.</summary>
/// <param name="port">Where the broker listens.</param>
/// <param name="times">How much of each: 1 takes a second, 10 is a real try.</param>
/// <param name="cancel">Ends it.</param>
public sealed class BrokerAttack(int port, int times, CancellationToken cancel) : IDisposable
{
    private readonly List<IDisposable> open = [];

    public void Dispose() => open.ForEach(one => one.Dispose());

    /// <param name="attack">Its name, as in tests/cases/faults/broker.csv.</param>
    public async Task Make(string attack)
    {
        switch (attack)
        {
            case "sessions that nobody comes back to":
                for (var i = 0; i < 300 * times; i++)
                {
                    var client = await Connected($"client-{i}-{new string('x', 1_000)}", isKept: true);
                    await client.DisconnectAsync(cancellationToken: cancel);
                }

                break;
            case "retained messages without end":
                await Publish(count: 400 * times, size: 10_000, retain: true);
                break;
            case "messages for somebody who sleeps":
                var sleeper = await Connected("sleeper", isKept: true);
                await sleeper.SubscribeAsync("#", MqttQualityOfServiceLevel.AtLeastOnce, cancel);
                await sleeper.DisconnectAsync(cancellationToken: cancel);
                await Publish(count: 100 * times, size: 200_000, retain: false);
                break;
            case "messages for somebody who does not read":
                await SubscribeAndReadNothing();
                await Publish(count: 100 * times, size: 200_000, retain: false);
                break;
            case "a long packet before anybody is let in":
                for (var i = 0; i < 10; i++)
                {
                    // A CONNECT that says it has a quarter of a gigabyte (MQTT 5.0, section 1.5.5), and no more.
                    await Socket([0x10, 0xFF, 0xFF, 0xFF, 0x7F]);
                }

                break;
            case "subscriptions without end":
                var reader = await Connected("reader", isKept: false);
                for (var i = 0; i < 200 * times; i++)
                {
                    await reader.SubscribeAsync($"{new string('a', 500)}/{i}/#", cancellationToken: cancel);
                }

                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(attack), attack, "No such attack.");
        }
    }

    /// <summary>One reading of a sensor beside it, by QoS 1.</summary>
    public async Task SpeakBeside()
    {
        var sensor = await Connected("sensor", isKept: false);
        await sensor.PublishBinaryAsync("chamber/mat-probe/reading", "{\"temperature\": 21}"u8.ToArray(),
            MqttQualityOfServiceLevel.AtLeastOnce, cancellationToken: cancel);
    }

    private async Task Publish(int count, int size, bool retain)
    {
        var client = await Connected("sender", isKept: false);
        for (var i = 0; i < count; i++)
        {
            await client.PublishBinaryAsync($"b/{i}", new byte[size], MqttQualityOfServiceLevel.AtLeastOnce, retain, cancel);
        }
    }

    // By hand, since a client of a library reads by itself: CONNECT (section 3.1) and SUBSCRIBE to # (section 3.8), MQTT 3.1.1.
    private Task SubscribeAndReadNothing() => Socket(
        [0x10, 16, 0, 4, .. "MQTT"u8, 4, 2, 0, 0, 0, 4, .. "slow"u8, 0x82, 6, 0, 1, 0, 1, (byte)'#', 0], answered: true);

    private async Task Socket(byte[] bytes, bool answered = false)
    {
        var client = new TcpClient { ReceiveBufferSize = 4_096 };
        open.Add(client);
        await client.ConnectAsync("127.0.0.1", port, cancel);
        await client.GetStream().WriteAsync(bytes, cancel);
        if (answered)
        {
            // That it was taken in.
            _ = await client.GetStream().ReadAsync(new byte[4], cancel);
        }
    }

    private async Task<IMqttClient> Connected(string id, bool isKept)
    {
        var client = new MqttClientFactory().CreateMqttClient();
        open.Add(client);
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).WithClientId(id)
            .WithCleanSession(!isKept).WithProtocolVersion(MqttProtocolVersion.V500)
            .WithSessionExpiryInterval(isKept ? 86_400u : 0u).Build(), cancel);
        return client;
    }
}
