using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Climate;
using Chamber.Service.Configuration;
using Chamber.Service.Export;
using Chamber.Service.Health;
using Chamber.Service.Home;
using Chamber.Service.Workers;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using NodaTime;

namespace Chamber.Club.Tests.Homes;

/// <summary>A home with a data file and the whole service over it, whose clock the test moves.</summary>
internal sealed class HomeOfItsOwn(TempFolder folder) : IAsyncDisposable
{
    private readonly DataDirectory data = new(folder.File("home"));
    private readonly FakeTimeProvider clock = new();
    private WebApplication? service;

    public ChamberStore Store => service!.Services.GetRequiredService<ChamberStore>();

    /// <summary>Writes a home and exports it, before its service runs.</summary>
    /// <returns>The folder that was written.</returns>
    public async Task<string> Make(string settings, Func<IHomeStore, Task> fill, CancellationToken cancel)
    {
        data.Make();
        await File.WriteAllTextAsync(data.Settings, settings, cancel);
        using var store = ChamberStore.Open(data.Database);
        await fill(store.Home);
        var taken = folder.File("taken");
        await WholeHome.WriteAsync(taken, store, data, _ => { }, cancel);
        return taken;
    }

    public async Task Start(Instant at)
    {
        clock.SetUtcNow(at.ToDateTimeOffset());
        service = ChamberHost.Build(SettingsFile.Load(data, []) with
        {
            Broker = new() { Listen = [new() { Port = FreePort.Next() }] },
            Page = new() { On = false },
        }, data, clock, json: true);
        await service.StartAsync();
        await Settle();
    }

    /// <summary>Lets the watch see all that was written, at a time, and what was refused, which its intake tells it.</summary>
    public async Task GoOn(Instant at, IReadOnlyList<Refusal> refusals)
    {
        service!.Services.GetRequiredService<HomeChanges>().Note();
        clock.SetUtcNow(at.ToDateTimeOffset());
        await ComeRound(refusals);
        await Settle();
    }

    /// <summary>What was told, as it is recorded, and each that is open in words.</summary>
    public (IReadOnlyList<AlertEntry> Told, IReadOnlyList<string> Words) Alerts(Instant since)
    {
        var home = service!.Services.GetRequiredService<HomeContext>().Read();
        var facts = home.Facts();
        return (Store.Ledger.Alerts.OpenOrClosedSince(since), [.. Store.Ledger.Alerts.Open().Select(AlertRecords.ToAlert).OfType<Alert>()
            .Select(alert => ConditionRegistry.InWords(alert, facts, new(home.Scale == Core.Climate.TemperatureScale.Fahrenheit, home.Zone))
                .ToString())]);
    }

    public async ValueTask DisposeAsync()
    {
        if (service is not null)
        {
            await service.StopAsync();
            await service.DisposeAsync();
        }
    }

    // The round that ends first may have begun before all was there; the one after it has not.
    private async Task Settle()
    {
        await ComeRound();
        await ComeRound();
    }

    private async Task ComeRound(IReadOnlyList<Refusal>? refusals = null)
    {
        var pulse = service!.Services.GetRequiredService<WatchPulse>();
        var before = pulse.Rounds;
        await service.Services.GetRequiredService<WatchInbox>().PostAsync(new([], refusals ?? []), TestContext.Current.CancellationToken);
        await Wait.Until("the watch to come round", () => pulse.Trouble is { } trouble ? throw new InvalidOperationException(trouble)
            : pulse.IsReady && pulse.Rounds != before);
    }
}
