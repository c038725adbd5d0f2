using System.Text.Json;
using Chamber.Service.Configuration;
using Chamber.Service.Notify;
using Chamber.Service.Tests.Notify;
using Chamber.Service.Workers;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Workers;

/// <summary>Whether people hear, past the ledger, that nothing can be stored: a real receiver, a clock that is moved by hand.</summary>
public sealed class TroubleWorkerTests : IDisposable
{
    private const string Full = "chamber.db: the disk is full. Make room on it.";

    private readonly TempFolder folder = new();
    private readonly FakeTimeProvider time = new(new(2026, 3, 4, 12, 0, 0, TimeSpan.Zero));
    private readonly CollectedLog log = new();
    private readonly ChamberStore store;
    private HomeTrouble? trouble = new("I am not watching: nothing can be stored", Full);

    public TroubleWorkerTests() => store = ChamberStore.Open(folder.File("chamber.db"));

    [Fact]
    public async Task People_are_told_once_when_it_lasts_and_again_when_it_comes_again()
    {
        await using var peer = await HttpPeer.StartAsync();
        using var worker = Worker(peer.Url);
        await Pass(worker, minutes: 2);
        Assert.Empty(peer.Requests);

        await Pass(worker, minutes: 5);
        var told = JsonDocument.Parse(Assert.Single(peer.Requests).Body).RootElement;
        Assert.Equal(("chamber.cannot-store", "I am not watching: nothing can be stored"),
            (told.GetProperty("type").GetString(), told.GetProperty("data").GetProperty("title").GetString()));
        Assert.Contains(Full, told.GetProperty("data").GetProperty("body").GetString(), StringComparison.Ordinal);
        Assert.Contains("look at your warm spots yourself", told.GetProperty("data").GetProperty("body").GetString(),
            StringComparison.Ordinal);

        var before = trouble;
        trouble = null;
        await Pass(worker, minutes: 1);
        trouble = before;
        await Pass(worker, minutes: 5);
        Assert.Equal(2, peer.Requests.Select(request => JsonDocument.Parse(request.Body).RootElement.GetProperty("id").GetString())
            .Distinct().Count());
        Assert.Equal(2, peer.Requests.Count);
        Assert.Empty(store.Ledger.Notices.Waiting());
    }

    [Fact]
    public async Task A_peer_that_is_away_is_tried_until_it_has_it()
    {
        await using var peer = await HttpPeer.StartAsync();
        peer.StatusCode = 503;
        using var worker = Worker(peer.Url);
        await Pass(worker, minutes: 4);
        var tries = peer.Requests.Count;
        Assert.InRange(tries, 2, 4);
        peer.StatusCode = 200;
        await Pass(worker, minutes: 10);
        Assert.Equal(tries + 1, peer.Requests.Count);
    }

    [Fact]
    public async Task In_quiet_hours_people_are_let_sleep_and_told_in_the_morning()
    {
        await using var peer = await HttpPeer.StartAsync();
        using var worker = Worker(peer.Url, new() { From = new(11, 0), To = new(12, 30) });
        await Pass(worker, minutes: 29);
        Assert.Empty(peer.Requests);
        await Pass(worker, minutes: 2);
        Assert.Single(peer.Requests);
    }

    public void Dispose()
    {
        store.Dispose();
        folder.Dispose();
        log.Dispose();
    }

    private async Task Pass(TroubleWorker worker, int minutes)
    {
        for (var half = 0; half < 2 * minutes; half++)
        {
            await worker.PassAsync(TestContext.Current.CancellationToken);
            time.Advance(TimeSpan.FromSeconds(30));
        }
    }

    private TroubleWorker Worker(string url, QuietHoursSettings? quiet = null)
    {
        var data = new DataDirectory(folder.Path);
        var settings = new Settings { Home = new() { Zone = DateTimeZone.Utc }, Notices = new() { Webhook = new() { Url = url } },
            QuietHours = quiet };
        return new(() => trouble, NoticeParts.Channels(new(store, settings, data, time)), NoticeComposer.For(settings, data), settings,
            new(settings, data, []), time, log.For<TroubleWorker>());
    }
}
