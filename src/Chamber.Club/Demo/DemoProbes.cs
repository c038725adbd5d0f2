using MQTTnet;
using MQTTnet.Protocol;
using NodaTime;

namespace Chamber.Club.Demo;

/// <summary>The probes of all invented homes, which speak to the club's broker as time passes.</summary>
internal sealed class DemoProbes(IReadOnlyList<DemoHome> homes, int brokerPort, TimeProvider time)
{
    /// <summary>Goes on until it is cancelled.</summary>
    /// <exception cref="MQTTnet.Exceptions.MqttCommunicationException">The broker has gone.</exception>
    public async Task SpeakAsync(CancellationToken cancel)
    {
        using var client = new MqttClientFactory().CreateMqttClient();
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", brokerPort).WithClientId("invented-homes")
            .Build(), cancel);
        while (true)
        {
            foreach (var (at, topic, payload) in homes.SelectMany(home => home.Next()).OrderBy(one => one.At))
            {
                if (at - Instant.FromDateTimeOffset(time.GetUtcNow()) is var ahead && ahead > Duration.Zero)
                {
                    await Task.Delay(ahead.ToTimeSpan(), time, cancel);
                }

                await client.PublishStringAsync(topic, payload, MqttQualityOfServiceLevel.AtLeastOnce, cancellationToken: cancel);
            }
        }
    }
}
