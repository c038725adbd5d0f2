using Chamber.Core;
using Chamber.Core.Batches;
using Chamber.Core.Simulation;
using Chamber.Service.Configuration;
using Chamber.Storage;
using Chamber.Storage.Writing;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Protocol;
using NodaTime;

namespace Chamber.Service.Demo;

/// <summary>Lets the simulated home go on while the service runs: its probes publish by MQTT, and the flatmate looks at the
/// batches.</summary>
internal sealed class DemoPlayer(FlatStory story, DataDirectory data, int port, TimeProvider clock, ILogger<DemoPlayer> logger)
{
    /// <summary>Goes on until cancelled. What ends it earlier is logged: the page and the command line go on without it.</summary>
    public async Task Play(CancellationToken cancel)
    {
        try
        {
            await GoOn(cancel);
        }
        catch (Exception problem)
            when (cancel.IsCancellationRequested && problem is OperationCanceledException or MqttCommunicationException)
        {
            // Asked to stop; the broker may have gone first.
        }
        catch (Exception problem) when (problem is MqttCommunicationException or StoreException or Core.RefusedException)
        {
            Log.DemoStopped(logger, problem, problem.Message);
        }
    }

    private async Task GoOn(CancellationToken cancel)
    {
        using var client = new MqttClientFactory().CreateMqttClient();
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).WithClientId("shared-flat").Build(),
            cancel);

        // Its own connection: the service notices that somebody else has written, as it does of the command line.
        using var store = ChamberStore.Open(data.Database);
        while (!cancel.IsCancellationRequested)
        {
            var minute = story.Next();
            foreach (var said in minute.Said.OrderBy(said => said.At))
            {
                await WaitFor(said.At, cancel);
                var message = DemoMessages.Of(said);
                await client.PublishBinaryAsync(message.Topic, message.Bytes, MqttQualityOfServiceLevel.AtLeastOnce, retain: false, cancel);
            }

            foreach (var (batch, look) in minute.Looks)
            {
                Record(store.Ledger.By(DemoHome.Flatmate, minute.At), batch, look);
            }
        }
    }

    private static void Record(HomePen ledger, BatchId batch, Look look)
    {
        if (ledger.Batches.Find(batch) is not { EndedAt: null })
        {
            return;
        }

        try
        {
            ledger.Batches.Record(batch, look);
        }
        catch (RefusedException)
        {
            // The viewer has counted otherwise; then their word stands.
        }
    }

    private async Task WaitFor(Instant at, CancellationToken cancel)
    {
        var wait = at - Instant.FromDateTimeOffset(clock.GetUtcNow());
        if (wait > Duration.Zero)
        {
            await Task.Delay(wait.ToTimeSpan(), clock, cancel);
        }
    }
}
