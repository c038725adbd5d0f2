using Chamber.Service.Tests.Notify;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Workers;

/// <summary>The built program as a service, with channels that throw at the first alert: it goes on, and the others are told. Readings,
/// times and counts are invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class NoticeFaultTests : IDisposable
{
    private const string OffTheCurve = "BAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA";

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_browser_whose_key_is_off_the_curve_ends_nothing()
    {
        await using var peer = await HttpPeer.StartAsync();
        folder.Write("chamber.json", $$"""
            { "broker": { "listen": [{ "port": {{FreePort.Next()}} }] }, "page": { "on": false },
              "notices": { "webhook": { "url": "{{peer.Url}}" }, "webPush": { "contact": "mailto:grower@example.org" } } }
            """);
        await Ask("spot", "add", "mat", "--kind", "heat-mat");
        AddBrowser();
        await using var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");

        await Ask("read", "mat", "55C", "--sure");
        Assert.Contains("55.0", System.Text.Encoding.UTF8.GetString((await peer.Next()).Body), StringComparison.Ordinal);
        Assert.Contains("remove it from the list of browsers", await service.Line("are not usable"), StringComparison.Ordinal);

        // The watch and the other channel go on.
        await Ask("read", "mat", "20C", "--sure");
        await Ask("read", "mat", "57C", "--sure");
        service.AskToStop();
        Assert.Equal(0, (await service.End()).ExitCode);
    }

    // As an older version took it, or a restored file has it.
    private void AddBrowser()
    {
        using var store = ChamberStore.Open(folder.File("chamber.db"));
        store.Ledger.PushDevices.Save(
            new("https://push.example.org/one", OffTheCurve, "AAAAAAAAAAAAAAAAAAAAAA", null, Instant.FromUtc(2027, 3, 1, 8, 0)));
    }

    private async Task Ask(params string[] arguments) =>
        (await ChamberProcess.Run([.. arguments, "--data", folder.Path])).Succeeded();
}
