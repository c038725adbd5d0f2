using System.Text.Json;
using Chamber.Service.Tests.Notify;
using Chamber.Storage;
using Chamber.Testing;
using MimeKit;

namespace Chamber.Service.Tests.Workers;

/// <summary>The built program as a service, telling a real mail server and a real HTTP receiver.</summary>
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
        var sent = JsonDocument.Parse((await peer.Next()).Body).RootElement;
        Assert.Equal("chamber.alert.opened", sent.GetProperty("type").GetString());
        Assert.Equal("hazard", sent.GetProperty("data").GetProperty("urgency").GetString());
    }

    [Fact]
    public async Task A_notice_that_could_not_be_sent_is_sent_once_after_a_kill_and_a_restart()
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

    private void WriteSettings(int mail, string url) => folder.Write("chamber.json", $$"""
        {
          "broker": { "listen": [{ "port": {{port}} }] },
          "page": { "on": false },
          "notices": {
            "email": { "host": "127.0.0.1", "port": {{mail}}, "security": "whenOffered", "from": "chamber@example.org", "to": ["grower@example.org"] },
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
