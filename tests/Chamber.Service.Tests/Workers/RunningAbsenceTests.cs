using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Tests.Workers;

/// <summary>The real service, stopped and started, and a real broker that holds what probes say meanwhile. Readings, times and counts are
/// invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class RunningAbsenceTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly Instant now = Instant.FromUnixTimeSeconds(TimeProvider.System.GetUtcNow().ToUnixTimeSeconds());

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task What_the_broker_held_is_told_at_the_start_and_later_news_corrects_it()
    {
        await using var broker = await Mosquitto.Start();
        folder.Write("chamber.json",
            $$"""{ "home": { "zone": "UTC" }, "broker": { "own": false, "host": "127.0.0.1", "port": {{broker.Port}} }, "page": { "on": false } }""");
        WriteHome();
        await using (var service = ChamberProcess.Start("run", "--data", folder.Path))
        {
            await service.Line("Connected to the broker");
            service.AskToStop();
            await service.End();
        }

        // Two hours cannot be waited for: the ledger says that the service lived then for the last time.
        using (var store = ChamberStore.Open(folder.File("chamber.db")))
        {
            store.Ledger.Settings.Set("service.alive", InstantPattern.ExtendedIso.Format(now - Duration.FromHours(2)));
        }

        await Publish(broker, "soil", 90, 24);
        await Publish(broker, "soil", 60, 34);
        await using var again = ChamberProcess.Start("run", "--data", folder.Path);
        Assert.Contains("mat reached 34 °C, and was never below 24 °C. Of one other spot nothing is known.",
            await again.Line("I was not watching from"), StringComparison.Ordinal);

        // A probe that had kept its readings itself sends them an hour later, and somebody imports a file.
        await Publish(broker, "soil", 45, 38);
        Assert.Contains("mat reached 38 °C, and was never below 24 °C.", await again.Line("More is known of when I was not watching"),
            StringComparison.Ordinal);
        await File.WriteAllLinesAsync(folder.File("sill.csv"),
            ["at,temperature", Text(now - Duration.FromMinutes(50)) + ",12", Text(now - Duration.FromMinutes(40)) + ",13"],
            TestContext.Current.CancellationToken);
        (await ChamberProcess.Run("import", folder.File("sill.csv"), "--probe", "glass", "--data", folder.Path)).Succeeded();
        Assert.Contains("sill reached 13 °C, and was never below 12 °C.", await again.Line("sill reached"), StringComparison.Ordinal);
    }

    private static string Text(Instant at) => InstantPattern.General.Format(at);

    private async Task Publish(Mosquitto broker, string probe, int minutesAgo, double celsius) =>
        await broker.Publish($"chamber/{probe}/reading",
            string.Create(CultureInfo.InvariantCulture,
            $$"""{ "temperature": {{celsius}}, "at": "{{Text(now - Duration.FromMinutes(minutesAgo))}}" }"""));

    private void WriteHome()
    {
        using var store = ChamberStore.Open(folder.File("chamber.db"));
        foreach (var (spot, probe) in new[] { ("mat", "soil"), ("sill", "glass") })
        {
            store.Ledger.SetUp.Save(new Spot(new(spot), SpotKind.Shelf, LightLevel.Dim, 2));
            store.Ledger.SetUp.Save(new ProbeEntry(new(new(probe), Measurand.Media, Duration.FromHours(2))));
            store.Ledger.SetUp.Put(new ProbeId(probe), new(spot), now - Duration.FromDays(1));
        }
    }
}
