using System.Globalization;
using System.Net;
using System.Text.Json;
using Chamber.Core.Alerts;
using Chamber.Service.Health;
using Chamber.Service.Workers;
using Chamber.Storage;
using Chamber.Testing;
using MQTTnet;
using Microsoft.Extensions.Time.Testing;
using NodaTime;
using NodaTime.Text;
using Serilog.Events;
using Serilog.Parsing;

namespace Chamber.Service.Tests.Workers;

/// <summary>What the service tells of itself.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class WatchdogTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly HttpClient http = new();
    private readonly int port = FreePort.Next();
    private readonly int page = FreePort.Next();

    public void Dispose()
    {
        http.Dispose();
        folder.Dispose();
    }

    [Fact]
    public async Task Health_is_one_word_for_everybody_and_details_at_this_machine()
    {
        WriteSettings();
        await using var service = await Ready();
        Assert.Equal((HttpStatusCode.OK, "live"), await Get("/health/live"));
        await service.Line("Watching 0 spots");
        Assert.Equal((HttpStatusCode.OK, "ready"), await Get("/health/ready"));
        var (status, details) = await Get("/health");
        Assert.Equal((HttpStatusCode.OK, true), (status, JsonDocument.Parse(details).RootElement.GetProperty("ready").GetBoolean()));

        // Through a proxy nobody is at this machine.
        using var request = new HttpRequestMessage(HttpMethod.Get, $"http://127.0.0.1:{page}/health");
        request.Headers.Add("X-Forwarded-For", "203.0.113.7");
        using var answer = await http.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.Equal("ready", await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Health_says_in_hours_how_far_the_mirror_is_behind()
    {
        folder.Write("chamber.json", $$"""
            { "broker": { "listen": [{ "port": {{port}} }] }, "page": { "port": {{page}} },
              "mirror": { "url": "http://127.0.0.1:{{FreePort.Next()}}" } }
            """);
        var earlier = TimeProvider.System.GetUtcNow().AddHours(-2);
        (await ChamberProcess.Run("spot", "add", "mat", "--data", folder.Path)).Succeeded();
        (await ChamberProcess.Run("read", "mat", "21C", "--when", earlier.ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture),
            "--data", folder.Path)).Succeeded();
        await using var service = await Ready();
        await service.Line("Watching 1 spot,");

        var mirror = JsonDocument.Parse((await Get("/health")).Text).RootElement.GetProperty("mirror");
        Assert.Equal(1, mirror.GetProperty("unsentReadings").GetInt32());
        Assert.InRange(mirror.GetProperty("behindHours").GetDouble(), 2, 3);
    }

    [Fact]
    public async Task A_service_whose_broker_is_away_lives_and_is_not_ready_and_says_why()
    {
        folder.Write("chamber.json",
            $$"""{ "broker": { "own": false, "host": "127.0.0.1", "port": {{FreePort.Next()}} }, "page": { "port": {{page}} } }""");
        await using var service = await Ready();
        await service.Line("Watching 0 spots");
        Assert.Equal((HttpStatusCode.OK, "live"), await Get("/health/live"));
        Assert.Equal((HttpStatusCode.ServiceUnavailable, "not ready"), await Get("/health/ready"));
        var (status, details) = await Get("/health");
        Assert.Equal(HttpStatusCode.ServiceUnavailable, status);
        Assert.NotEqual("", JsonDocument.Parse(details).RootElement.GetProperty("trouble").GetString());
    }

    [Fact]
    public async Task A_heartbeat_comes_by_MQTT_and_the_last_will_says_offline_after_a_kill()
    {
        await using var broker = await Mosquitto.Start();
        folder.Write("chamber.json",
            $$"""{ "broker": { "own": false, "host": "127.0.0.1", "port": {{broker.Port}} }, "page": { "on": false } }""");
        using var client = new MqttClientFactory().CreateMqttClient();
        var beat = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        var offline = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        client.ApplicationMessageReceivedAsync += message =>
        {
            var text = message.ApplicationMessage.ConvertPayloadToString();
            _ = message.ApplicationMessage.Topic == "chamber/service/heartbeat" ? beat.TrySetResult(text)
                : text == "offline" && offline.TrySetResult();
            return Task.CompletedTask;
        };
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", broker.Port).Build(),
            TestContext.Current.CancellationToken);
        await client.SubscribeAsync("chamber/service/#", cancellationToken: TestContext.Current.CancellationToken);

        await using var service = await Ready();
        var said = JsonDocument.Parse(await Wait.For("a heartbeat", beat.Task)).RootElement;
        Assert.Equal(0, said.GetProperty("openAlerts").GetInt32());
        await service.Kill();
        await Wait.For("the word that it is offline", offline.Task);
    }

    [Fact]
    public async Task After_an_absence_it_says_when_nobody_watched_and_what_spots_reached()
    {
        await using var mail = MailServer.Start();
        WriteSettings(mail.Port);
        await Ask("spot", "add", "shelf");
        await Ask("spot", "add", "sill");
        var now = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());
        await Ask("read", "shelf", "34C", "--when", InstantPattern.General.Format(now - Duration.FromHours(3)));
        using (var store = ChamberStore.Open(folder.File("chamber.db")))
        {
            store.Ledger.Alerts.Save(new OutageEntry(new(now - Duration.FromHours(5), now - Duration.FromHours(1)), OutageCause.Service));
        }

        await using var service = await Ready();
        var letter = await mail.Next();
        Assert.StartsWith("I was not watching from ", letter.Subject, StringComparison.Ordinal);
        Assert.Contains("shelf reached 34 °C", letter.TextBody, StringComparison.Ordinal);
        Assert.Contains("Of one other spot nothing is known.", letter.TextBody, StringComparison.Ordinal);
        await service.Line("I was not watching from ");
    }

    // sd-daemon(3): a priority in angle brackets at the beginning of each line; RFC 5424 table 2 names the numbers.
    [Theory]
    [InlineData(LogEventLevel.Error, "<3>hot\n<3>System.InvalidOperationException: no\n")]
    [InlineData(LogEventLevel.Warning, "<4>hot\n<4>System.InvalidOperationException: no\n")]
    [InlineData(LogEventLevel.Information, "<6>hot\n<6>System.InvalidOperationException: no\n")]
    public void Every_line_for_the_journal_begins_with_its_priority(LogEventLevel level, string expected)
    {
        using var output = new StringWriter();
        new JournalFormatter().Format(
            new LogEvent(default, level, new InvalidOperationException("no"), new MessageTemplateParser().Parse("hot"), []), output);
        Assert.Equal(expected, output.ToString());
    }

    [Fact]
    public void A_text_in_a_line_for_the_journal_stands_without_quotation_marks()
    {
        using var output = new StringWriter();
        new JournalFormatter()
            .Format(new LogEvent(default, LogEventLevel.Information, null, new MessageTemplateParser().Parse("Data in {Place}."),
            [new("Place", new ScalarValue("/srv"))]), output);
        Assert.Equal("<6>Data in /srv.\n", output.ToString());
    }

    [Fact]
    public void A_watch_that_does_not_come_round_is_not_alive()
    {
        var machine = new FakeTimeProvider();
        var pulse = new WatchPulse(machine);
        machine.Advance(WatchPulse.AgeMax - TimeSpan.FromSeconds(1));
        Assert.True(pulse.IsAlive);
        machine.Advance(TimeSpan.FromSeconds(1));
        Assert.False(pulse.IsAlive);
        pulse.Beat(problem: "disk full");
        Assert.Equal((true, "disk full"), (pulse.IsAlive, pulse.Trouble));
        pulse.Beat(problem: null);
        Assert.Null(pulse.Trouble);
    }

    private void WriteSettings(int? mail = null) => folder.Write("chamber.json", $$"""
        {
          "broker": { "listen": [{ "port": {{port}} }] }, "page": { "port": {{page}} },
          "notices": { {{(mail is null ? "" : $$"""
            "email": { "host": "127.0.0.1", "port": {{mail}}, "security": "whenOffered", "from": "chamber@example.org",
                "to": ["grower@example.org"] }
            """)}} }
        }
        """);

    private async Task<(HttpStatusCode Status, string Text)> Get(string path)
    {
        using var answer = await http.GetAsync($"http://127.0.0.1:{page}{path}", TestContext.Current.CancellationToken);
        return (answer.StatusCode, await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    private async Task<RunningProgram> Ready()
    {
        var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");
        return service;
    }

    private async Task Ask(params string[] arguments) =>
        (await ChamberProcess.Run([.. arguments, "--data", folder.Path])).Succeeded();
}
