using MQTTnet;
using MQTTnet.Formatter;

namespace Chamber.Benchmarks.Pipeline;

/// <summary>The client library alone: counts messages and does nothing with them.</summary>
internal static class DoNothing
{
    public static async Task Run(int port, string clientId, int messages)
    {
        var count = 0;
        var meter = new Outcome.Meter();
        var done = new TaskCompletionSource();
        using var client = new MqttClientFactory().CreateMqttClient();
        client.ApplicationMessageReceivedAsync += _ =>
        {
            if (++count == 1)
            {
                meter.Start();
            }

            if (count == messages)
            {
                done.SetResult();
            }

            return Task.CompletedTask;
        };
        await client.ConnectAsync(new MqttClientOptionsBuilder()
            .WithTcpServer("127.0.0.1", port)
            .WithClientId(clientId)
            .WithCleanSession(false)
            .WithProtocolVersion(MqttProtocolVersion.V311)
            .Build());
        await done.Task;
        meter.Print(messages, () => 0);
    }
}
