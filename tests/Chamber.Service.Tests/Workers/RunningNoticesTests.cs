using System.Text.Json;
using Chamber.Service.Tests.Notify;
using Chamber.Storage;
using Chamber.Testing;
using MimeKit;

namespace Chamber.Service.Tests.Workers;

/// <summary>The built program as a service, telling a real mail server and a real HTTP receiver. Readings are invented; °F are turned from
/// °C by definition.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class RunningNoticesTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly int port = FreePort.Next();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_hazard_reaches_the_mailbox_and_the_webhook()
    {
        await using var mail = MailServer.Start();
        await using var peer = await HttpPeer.StartAsync();
        WriteSettings(mail.Port, peer.Url);
        await Ask("spot", "add", "mat", "--kind", "heat-mat");
        await using var service = await Ready();
        await Ask("read", "mat", "55C", "--sure");

        var letter = await mail.Next();
        Assert.Equal("Danger: 55.0 °C on mat", letter.Subject);
        Assert.Equal(MessagePriority.Urgent, letter.Priority);
        Assert.Contains("Unplug what heats it", letter.TextBody, StringComparison.Ordinal);
        var plot = Assert.Single(letter.BodyParts.OfType<MimePart>(), part => part.ContentType.MimeType == "image/png");
        Assert.Contains($"cid:{plot.ContentId}\" alt=\"Temperature on mat over the last 36 h: from 55 &#176;C to 55 &#176;C, last 55 "
            + $"&#176;C.", letter.HtmlBody, StringComparison.Ordinal);
        var sent = JsonDocument.Parse((await peer.Next()).Body).RootElement;
        Assert.Equal("chamber.alert.opened", sent.GetProperty("type").GetString());
        Assert.Equal("hazard", sent.GetProperty("data").GetProperty("urgency").GetString());
    }

    [Fact]
    public async Task A_Fahrenheit_home_is_told_in_Fahrenheit_and_shows_what_was_not_sent()
    {
        await using var mail = MailServer.Start();
        await using var peer = await HttpPeer.StartAsync();
        peer.StatusCode = 410;
        var page = FreePort.Next();
        WriteSettings(mail.Port, peer.Url, $$"""{ "port": {{page}} }""", units: "F");
        await Ask("spot", "add", "mat", "--kind", "heat-mat");
        await using var service = await Ready();
        await Ask("read", "mat", "131F", "--sure");

        var letter = await mail.Next();
        Assert.Equal("Danger: 131 °F on mat", letter.Subject);
        Assert.DoesNotContain("°C", letter.TextBody, StringComparison.Ordinal);
        Assert.Contains("from 131 &#176;F to 131 &#176;F", letter.HtmlBody, StringComparison.Ordinal);
        await service.Line("A notice was given up by webhook");
        using var http = new HttpClient();
        var shown = await http.GetStringAsync($"http://127.0.0.1:{page}/set-up/notices", TestContext.Current.CancellationToken);
        Assert.Contains("Could not be sent", shown, StringComparison.Ordinal);
        Assert.Contains("refused the notice (410)", shown, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_digest_is_sent_once_a_day_also_over_restarts()
    {
        await using var mail = MailServer.Start();
        await using var peer = await HttpPeer.StartAsync();
        var at = TimeProvider.System.GetUtcNow().AddMinutes(-1).ToString("HH:mm", System.Globalization.CultureInfo.InvariantCulture);
        WriteSettings(mail.Port, peer.Url, digest: at);
        await Ask("spot", "add", "shelf");
        await using (var service = await Ready())
        {
            Assert.Contains("nothing to do", (await mail.Next()).Subject, StringComparison.Ordinal);
            await peer.Next();

            // A notice that was delivered and not yet recorded as sent goes out again after a kill, under the same name.
            await service.Line("A notice was sent by email");
            await service.Line("A notice was sent by webhook");
            await service.Kill();
        }

        await using var again = await Ready();
        await Ask("read", "shelf", "55C", "--sure");
        Assert.StartsWith("Danger", (await mail.Next()).Subject, StringComparison.Ordinal);
        Assert.Equal(2, mail.Mails.Count);
    }

    [Fact]
    public async Task A_notice_that_could_not_be_sent_is_sent_once_after_a_restart()
    {
        await using var mail = MailServer.Start();
        await using var peer = await HttpPeer.StartAsync();
        peer.StatusCode = 503;
        WriteSettings(mail.Port, peer.Url);
        await Ask("spot", "add", "mat", "--kind", "heat-mat");
        await using (var service = await Ready())
        {
            await Ask("read", "mat", "55C", "--sure");
            await peer.Next();
            await mail.Next();

            // The mail is out before the ledger has it so; killed in between, the service would rightly send it again.
            await service.Line("A notice was sent by email");
            await service.Line("could not be sent by webhook");
            await service.Kill();
        }

        peer.StatusCode = 200;
        MakeDueNow();
        await using var again = await Ready();
        var id = JsonDocument.Parse((await peer.Next()).Body).RootElement.GetProperty("id").GetString();
        Assert.Equal("alert-1-opened", id);

        // The reading that ends it makes the next notice; were the first told again, it would come before.
        await Ask("read", "mat", "56C", "--sure");
        again.AskToStop();
        await again.End();
        Assert.Equal(2, peer.Requests.Count(request => JsonDocument.Parse(request.Body).RootElement.GetProperty("id").GetString() == id));
        Assert.Single(mail.Mails, letter => letter.Subject == "Danger: 55.0 °C on mat");
        using var store = ChamberStore.Open(folder.File("chamber.db"));
        Assert.Empty(store.Ledger.Notices.Dead());
        Assert.Empty(store.Ledger.Notices.Waiting());
    }

    private void MakeDueNow()
    {
        using var store = ChamberStore.Open(folder.File("chamber.db"));
        foreach (var waiting in store.Ledger.Notices.Waiting())
        {
            store.Ledger.Notices.Failed(waiting.Number, waiting.Error ?? "", waiting.CreatedAt);
        }
    }

    private void WriteSettings(int mail, string url, string page = """{ "on": false }""", string units = "C", string? digest = null) =>
        folder.Write("chamber.json", $$"""
        {
          "broker": { "listen": [{ "port": {{port}} }] },
          "page": {{page}}, "units": "{{units}}", "home": { "zone": "UTC" },
          "notices": {
            {{(digest is null ? "" : $$""" "digest": { "at": "{{digest}}" }, """)}}
            "email": { "host": "127.0.0.1", "port": {{mail}}, "security": "whenOffered", "from": "chamber@example.org",
                "to": ["grower@example.org"] },
            "webhook": { "url": "{{url}}" }
          }
        }
        """);

    private async Task<RunningProgram> Ready()
    {
        var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");
        return service;
    }

    private async Task Ask(params string[] arguments) =>
        (await ChamberProcess.Run([.. arguments, "--data", folder.Path])).Succeeded();
}
