using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Storage;
using Chamber.Testing;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Protocol;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Tests.Workers;

/// <summary>The built program as a service, with a real broker and real publishers. Readings, times and counts are invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class RunningServiceTests : IDisposable
{
    private const int Kills = 20;
    private const int ReadingsBetweenKills = 60;

    private readonly TempFolder folder = new();
    private readonly int port = FreePort.Next();
    private readonly Instant start = Instant.FromUnixTimeSeconds(TimeProvider.System.GetUtcNow().ToUnixTimeSeconds() - 3600);

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_hazard_goes_to_console_MQTT_and_command_line_and_is_cleared()
    {
        WriteSettings($$"""{ "broker": { "listen": [{ "port": {{port}} }] }, "page": { "on": false } }""");
        await Ask("spot", "add", "mat", "--kind", "heat-mat");
        await Ask("probe", "add", "p1", "--measures", "media", "--spot", "mat");
        await using var service = await Ready();
        using var client = await Connected(port);
        var retained = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        client.ApplicationMessageReceivedAsync += message =>
        {
            if (message.ApplicationMessage.Topic == "chamber/alerts/mat/hazard")
            {
                retained.TrySetResult(message.ApplicationMessage.ConvertPayloadToString());
            }

            return Task.CompletedTask;
        };
        await client.SubscribeAsync("chamber/alerts/#", MqttQualityOfServiceLevel.AtLeastOnce, TestContext.Current.CancellationToken);
        await Publish(client, "chamber/p1/reading", """{ "temperature": 55 }""");

        await service.Line("Danger: 55.0 °C on mat");
        Assert.Contains("\"severity\":\"danger\"", await Wait.For("the retained alert", retained.Task), StringComparison.Ordinal);
        Assert.Contains("Danger: 55.0 °C on mat", await Ask("alerts"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_another_process_writes_is_noticed()
    {
        WriteSettings($$"""{ "broker": { "listen": [{ "port": {{port}} }] }, "page": { "on": false } }""");
        await Ask("spot", "add", "shelf");
        await using var service = await Ready();
        await Ask("read", "shelf", "52C", "--sure");
        await service.Line("Danger: 52.0 °C on shelf");
    }

    [Fact]
    public async Task A_mapping_taken_by_the_command_counts_while_the_service_runs()
    {
        WriteSettings($$"""{ "broker": { "listen": [{ "port": {{port}} }] }, "page": { "on": false } }""");
        await using var service = await Ready();
        using var client = await Connected(port);
        await client.PublishStringAsync("flat/mat", """{ "temperature": 21.5 }""", MqttQualityOfServiceLevel.AtLeastOnce, retain: true,
            TestContext.Current.CancellationToken);
        Assert.Contains("reads it from its next message on", await Ask("listen", "--for", "1s", "--take", "flat/mat"),
            StringComparison.Ordinal);

        await service.Line("chamber.json was changed");
        await Publish(client, "flat/mat", """{ "temperature": 22.5 }""");
        Assert.Contains("22.5", await Ask("probes"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_change_that_cannot_be_used_leaves_in_force_what_was()
    {
        var mapped = """{ "topic": "flat/{probe}", "form": "number", "quantity": "temperature", "unit": "Cel" }""";
        string Written(string mappings) =>
            $$"""{ "broker": { "listen": [{ "port": {{port}} }] }, "page": { "on": false }, "mappings": [{{mappings}}] }""";
        WriteSettings(Written(mapped));
        await using var service = await Ready();
        using var client = await Connected(port);
        WriteSettings(Written("nonsense"));
        await service.Line("what was in force stays");
        await Publish(client, "flat/mat", "22.5");
        WriteSettings(Written(mapped.Replace("flat", "home", StringComparison.Ordinal)));
        await service.Line("chamber.json was changed: mappings");
        await Publish(client, "home/ledge", "19.5");
        using var store = ChamberStore.Open(Path.Combine(folder.Path, "chamber.db"));
        Assert.Equal([19.5, 22.5], store.Journal.Latest(Instant.MaxValue).Select(one => one.Temperature!.Value.Value.Celsius).Order());
    }

    [Fact]
    public async Task Made_up_names_do_not_keep_a_known_probe_from_telling_danger()
    {
        WriteSettings($$"""{ "broker": { "listen": [{ "port": {{port}} }] }, "page": { "on": false }, "limits": { "probes": 3 } }""");
        await Ask("spot", "add", "mat", "--kind", "heat-mat");
        await Ask("probe", "add", "p1", "--measures", "media", "--spot", "mat");
        await using var service = await Ready();
        using var client = await Connected(port);
        for (var name = 0; name < 5; name++)
        {
            await Publish(client, $"chamber/made-up-{name}/reading", """{ "temperature": 21 }""");
        }

        await Publish(client, "chamber/p1/reading", """{ "temperature": 24 }""");
        await Publish(client, "chamber/p1/reading", """{ "temperature": 60 }""");
        await service.Line("Danger: 60.0 °C on mat");
    }

    [Fact]
    public async Task A_stop_is_tidy()
    {
        WriteSettings($$"""{ "broker": { "listen": [{ "port": {{port}} }] }, "page": { "on": false } }""");
        await using var service = await Ready();
        service.AskToStop();
        var result = await service.End();
        Assert.Equal((0, string.Empty), (result.ExitCode, result.Errors));
        Assert.Contains("Chamber stops", result.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_bad_message_is_refused_and_the_next_one_taken_in()
    {
        WriteSettings($$"""{ "broker": { "listen": [{ "port": {{port}} }] }, "page": { "on": false } }""");
        await using var service = await Ready();
        using var client = await Connected(port);
        await Publish(client, "chamber/p1/reading", "{ this is not JSON");
        await Publish(client, "chamber/p1/reading", """{ "temperature": 21 }""");
        using var store = ChamberStore.Open(Path.Combine(folder.Path, "chamber.db"));
        Assert.Equal(RefusalReason.Malformed, Assert.Single(store.Journal.Refusals()).Reason);
        Assert.Equal(21, store.Journal.Latest(new ProbeId("p1"), Instant.MaxValue)!.Temperature!.Value.Value.Celsius);
    }

    [Fact]
    public async Task A_port_that_is_taken_is_told_in_one_line()
    {
        await using var foreign = await Mosquitto.Start();
        WriteSettings($$"""{ "broker": { "listen": [{ "port": {{foreign.Port}} }] }, "page": { "on": false } }""");
        var result = await ChamberProcess.Run("run", "--data", folder.Path);
        Assert.Equal(1, result.ExitCode);
        Assert.Contains("another broker may run there; join it, or choose another port.", result.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Killed_twenty_times_in_mid_stream_the_built_in_broker_loses_nothing()
    {
        WriteSettings($$"""{ "broker": { "listen": [{ "port": {{port}} }] }, "page": { "on": false } }""");
        var sent = 0;
        for (var kill = 0; kill < Kills; kill++)
        {
            await using var service = await Ready();
            sent = await SendUntilKilled(sent, service);
        }

        await using var last = await Ready();
        sent = await Send(sent, ReadingsBetweenKills);
        AssertEachOnce(sent);
    }

    [Fact]
    public async Task Killed_twenty_times_in_mid_stream_a_foreign_broker_loses_nothing()
    {
        await using var broker = await Mosquitto.Start();
        WriteSettings($$"""{ "broker": { "own": false, "host": "127.0.0.1", "port": {{broker.Port}} }, "page": { "on": false } }""");
        await using (var first = await Joined())
        {
            await first.Kill();
        }

        using var publisher = new CancellationTokenSource();
        using var progress = new SemaphoreSlim(0);
        var sending = SendOnAndOn(broker.Port, progress, publisher.Token);
        for (var kill = 0; kill < Kills; kill++)
        {
            await using var service = await Joined();
            for (var reading = 0; reading < ReadingsBetweenKills; reading++)
            {
                await Wait.For("the next reading to be acknowledged", progress.WaitAsync(TestContext.Current.CancellationToken));
            }

            await service.Kill();
        }

        await publisher.CancelAsync();
        var sent = await sending;
        await using var last = await Joined();
        await last.Line("Danger: 55.0 °C on end");
        AssertEachOnce(sent);
    }

    // The publisher takes a number as sent only when its PUBACK came; without one it sends the same number again.
    private async Task<int> SendUntilKilled(int from, RunningProgram service)
    {
        using var client = await Connected(port);
        var next = from;
        var killing = Task.CompletedTask;
        try
        {
            while (true)
            {
                if (next - from == ReadingsBetweenKills / 2)
                {
                    killing = Task.Run(service.Kill, TestContext.Current.CancellationToken);
                }

                await Publish(client, "chamber/p1/reading", Numbered(next));
                next++;
            }
        }
        catch (Exception problem) when (problem is MqttCommunicationException or OperationCanceledException or ObjectDisposedException)
        {
            await killing;
            return next;
        }
    }

    private async Task<int> Send(int from, int count)
    {
        using var client = await Connected(port);
        for (var number = from; number < from + count; number++)
        {
            await Publish(client, "chamber/p1/reading", Numbered(number));
        }

        return from + count;
    }

    private async Task<int> SendOnAndOn(int foreignPort, SemaphoreSlim progress, CancellationToken stop)
    {
        using var client = await Connected(foreignPort);
        var number = 0;
        while (!stop.IsCancellationRequested)
        {
            await Publish(client, "chamber/p1/reading", Numbered(number++));
            progress.Release();
        }

        // What comes after all of them: its alert says that they were committed.
        await Publish(client, "chamber/end/reading", """{ "temperature": 55 }""");
        return number;
    }

    private static async Task<IMqttClient> Connected(int port)
    {
        var client = new MqttClientFactory().CreateMqttClient();
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).WithClientId("sensor")
            .WithTimeout(RunningProgram.Patience).Build(), TestContext.Current.CancellationToken);
        return client;
    }

    private static async Task Publish(IMqttClient client, string topic, string payload)
    {
        var message = new MqttApplicationMessageBuilder().WithTopic(topic).WithPayload(payload)
            .WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce).Build();
        await client.PublishAsync(message, TestContext.Current.CancellationToken);
    }

    // Each number is a temperature and its own millisecond, so that each can be found again.
    private string Numbered(int number) => string.Create(
        CultureInfo.InvariantCulture,
        $$"""{ "temperature": {{20 + number / 100_000.0}}, "at": "{{InstantPattern.ExtendedIso.Format(start + Duration.FromMilliseconds(number))}}" }""");

    private void AssertEachOnce(int sent)
    {
        using var store = ChamberStore.Open(Path.Combine(folder.Path, "chamber.db"));
        var stored = store.Journal.Read(new ProbeId("p1"), new Interval(start, null))
            .Select(reading => (int)(reading.MeasuredAt - start).TotalMilliseconds);
        Assert.Equal(Enumerable.Range(0, sent), stored);
    }

    private void WriteSettings(string json) => folder.Write("chamber.json", json);

    private Task<RunningProgram> Ready() => Run("Chamber is ready");

    private Task<RunningProgram> Joined() => Run("Connected to the broker");

    private async Task<RunningProgram> Run(string line)
    {
        var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line(line);
        return service;
    }

    private async Task<string> Ask(params string[] arguments)
    {
        var result = await ChamberProcess.Run([.. arguments, "--data", folder.Path]);
        Assert.Equal((0, string.Empty), (result.ExitCode, result.Errors));
        return result.Output;
    }
}
