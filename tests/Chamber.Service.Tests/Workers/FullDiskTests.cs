using System.Globalization;
using System.Net;
using System.Text.Json;
using Chamber.Core.Climate;
using Chamber.Storage;
using Chamber.Testing;
using MQTTnet;
using MQTTnet.Protocol;

namespace Chamber.Service.Tests.Workers;

/// <summary>A disk that is really full, under the built program. Readings, times and counts are invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class FullDiskTests : IDisposable
{
    private const string Said = "the disk is full. Make room on it; nothing was half-written, and the same can be tried again.";

    private readonly TempFolder folder = new();
    private readonly HttpClient http = new();
    private readonly int port = FreePort.Next();
    private readonly int page = FreePort.Next();
    private readonly DateTimeOffset start = TimeProvider.System.GetUtcNow().AddHours(-1);

    public void Dispose()
    {
        http.Dispose();
        folder.Dispose();
    }

    [Fact]
    public async Task While_the_disk_is_full_nothing_is_lost_and_everybody_is_told()
    {
        await using var disk = await SmallDisk.Make(megabytes: 4);
        await File.WriteAllTextAsync(disk.File("chamber.json"),
            $$"""{ "broker": { "listen": [{ "port": {{port}} }] }, "page": { "port": {{page}} } }""",
            TestContext.Current.CancellationToken);
        await using var service = ChamberProcess.Start(disk, "run", "--data", disk.Path);
        await service.Line("Chamber is ready");
        await service.Line("Watching 0 spots");
        using var client = await Connected(port);
        await Send(client, 0, 10);
        disk.Fill();

        // The last bytes of a page that was there before may still take a commit: from the word of the service on none can be stored.
        var first = Send(client, 10, 50);
        await service.Line(Said);
        var more = Enumerable.Range(60, 40).Select(number => Send(client, number, 1)).ToList();

        var (status, health) = await Get("/health");
        var told = JsonDocument.Parse(health).RootElement;
        Assert.Equal((HttpStatusCode.ServiceUnavailable, true, false),
            (status, told.GetProperty("live").GetBoolean(), told.GetProperty("ready").GetBoolean()));
        Assert.EndsWith($"chamber.db: {Said}", told.GetProperty("trouble").GetString(), StringComparison.Ordinal);
        Assert.Contains(Said, WebUtility.HtmlDecode((await Get("/")).Text), StringComparison.Ordinal);
        Assert.Equal((HttpStatusCode.OK, "live"), await Get("/health/live"));

        // Once more after all these answers: it was tried again meanwhile, in vain.
        Assert.False(first.IsCompleted);
        Assert.All(more, sending => Assert.False(sending.IsCompleted));
        disk.Free();

        await first;
        await Task.WhenAll(more);
        await service.Line("Messages are stored again.");
        await WellAgain();
        Assert.DoesNotContain("the disk is full", (await Get("/")).Text, StringComparison.Ordinal);
        Assert.Equal(Enumerable.Range(0, 100), await Stored(disk));
        Assert.DoesNotContain("   at Chamber", service.Output, StringComparison.Ordinal);
        service.AskToStop();
        Assert.Equal(0, (await service.End()).ExitCode);
    }

    [Fact]
    public async Task Killed_on_a_full_disk_it_loses_nothing_that_a_foreign_broker_holds()
    {
        await using var broker = await Mosquitto.Start();
        await using var disk = await SmallDisk.Make(megabytes: 4);
        await File.WriteAllTextAsync(disk.File("chamber.json"),
            $$"""{ "broker": { "own": false, "host": "127.0.0.1", "port": {{broker.Port}} }, "page": { "on": false } }""",
            TestContext.Current.CancellationToken);
        await using (var service = ChamberProcess.Start(disk, "run", "--data", disk.Path))
        {
            await service.Line("Connected to the broker");
            disk.Fill();
            await broker.PublishLines("chamber/p1/reading", Enumerable.Range(0, 300).Select(Payload));
            await service.Line(Said);
            await service.Kill();
        }

        disk.Free();
        await using var next = ChamberProcess.Start(disk, "run", "--data", disk.Path);
        await next.Line("Connected to the broker");
        await broker.Publish("chamber/end/reading", """{ "temperature": 55 }""");
        await next.Line("Danger: 55.0 °C on end");
        Assert.Equal(Enumerable.Range(0, 300), await Stored(disk));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task A_start_on_a_full_disk_ends_in_one_line_that_says_so(bool hasData)
    {
        await using var disk = await SmallDisk.Make(megabytes: 4);
        await File.WriteAllTextAsync(disk.File("chamber.json"), """{ "page": { "on": false } }""", TestContext.Current.CancellationToken);
        if (hasData)
        {
            await using var asked = ChamberProcess.Start(disk, "spot", "add", "shelf", "--data", disk.Path);
            (await asked.End()).Succeeded();
        }

        disk.Fill();
        await using var service = ChamberProcess.Start(disk, "run", "--data", disk.Path);
        var result = await service.End();

        Assert.Equal((1, $"chamber: {disk.Path}/chamber.db: {Said}"), (result.ExitCode, result.Errors.Trim()));
    }

    private static async Task<IMqttClient> Connected(int port)
    {
        var client = new MqttClientFactory().CreateMqttClient();
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).WithTimeout(RunningProgram.Patience)
            .Build(), TestContext.Current.CancellationToken);
        return client;
    }

    /// <summary>Ends when all of them are acknowledged.</summary>
    private async Task Send(IMqttClient client, int from, int count) => await Task.WhenAll(Enumerable.Range(from, count).Select(number =>
        client.PublishStringAsync("chamber/p1/reading", Payload(number), MqttQualityOfServiceLevel.AtLeastOnce,
            cancellationToken: TestContext.Current.CancellationToken)));

    // Each number is a temperature and its own millisecond.
    private string Payload(int number) => string.Create(
        CultureInfo.InvariantCulture,
            $$"""{"temperature":{{20 + number / 1000.0}},"at":"{{start.AddSeconds(number):yyyy-MM-dd'T'HH:mm:ss.fff'Z'}}"}""");

    // The watch tries again by itself, a second or two later.
    private async Task WellAgain()
    {
        await Wait.Until("the service to be well again",
            async () => (await Get("/health")) is { Status: HttpStatusCode.OK, Text: var text } ? text : null);
    }

    private async Task<(HttpStatusCode Status, string Text)> Get(string path)
    {
        using var answer = await http.GetAsync(new Uri($"http://127.0.0.1:{page}{path}"), TestContext.Current.CancellationToken);
        return (answer.StatusCode, await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    // By way of a backup: the database library follows links, and would look for the file where only the disk's own programs find it.
    private async Task<List<int>> Stored(SmallDisk disk)
    {
        await using var backup = ChamberProcess.Start(disk, "backup", folder.File("copy.db"), "--data", disk.Path);
        (await backup.End()).Succeeded();
        using var store = ChamberStore.Open(folder.File("copy.db"), new() { ReadOnly = true });
        return [.. store.Journal.Read(new ProbeId("p1"), new(null, null))
            .Select(reading => (int)Math.Round((reading.Temperature!.Value.Celsius - 20) * 1000))];
    }
}
