using System.Globalization;
using Chamber.Core.Alerts;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using Chamber.Storage;
using Chamber.Testing;
using MQTTnet;
using MQTTnet.Protocol;
using NodaTime;

namespace Chamber.Service.Tests.Faults;

/// <summary>
/// The built program under a clock that is wrong, or is set while it runs (libfaketime), by tests/cases/faults/clock.csv: it is told,
/// readings flow on and are marked, and danger is told before and after. Readings are invented. A clock that falls back to 1970 while the
/// program runs is played by an injected one in HomeClockTests: libfaketime then dates a wait that .NET times evenly by twice the time
/// that the machine has run, so no timer goes off again.
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class ClockFaultTests : IDisposable
{
    private static readonly (ProbeId Probe, SpotId Spot)[] Home = [(new("before"), new("mat")), (new("after"), new("sill"))];

    private readonly TempFolder folder = new();
    private readonly int port = FreePort.Next();

    public static TheoryData<string, string, string, string, string> Cases()
    {
        var cases = new TheoryData<string, string, string, string, string>();
        foreach (var line in FaultCases.Of("clock.csv"))
        {
            cases.Add(line[0], line[1], line[2], line[3], line[4]);
        }

        return cases;
    }

    public void Dispose() => folder.Dispose();

    [Theory]
    [MemberData(nameof(Cases))]
    public async Task A_wrong_clock_is_told_and_so_is_every_danger(string fault, string first, string then, string told, string marked)
    {
        Assert.NotEmpty(fault);
        WriteHome();
        var time = folder.Write("faketime", first);
        await using var service = ChamberProcess.Start(new Dictionary<string, string?>
        {
            ["LD_PRELOAD"] = "/usr/lib/x86_64-linux-gnu/faketime/libfaketimeMT.so.1",
            ["FAKETIME_TIMESTAMP_FILE"] = time,
            ["FAKETIME_NO_CACHE"] = "1",

            // As on a real machine: what goes on evenly is not what is set.
            ["DONT_FAKE_MONOTONIC"] = "1",
        }, "run", "--data", folder.Path);
        await service.Line("Watching 2 spots,");
        await Publish("before", 55.5);
        await service.Line("Danger: 55.5 °C on mat");

        await File.WriteAllTextAsync(time, then, TestContext.Current.CancellationToken);
        await service.Line(told);
        await Publish("after", 56.5);
        await service.Line("Danger: 56.5 °C on sill");
        service.AskToStop();
        await service.End();

        using var store = ChamberStore.Open(folder.File("chamber.db"));
        var doubted = Home.SelectMany(one => store.Journal.ReadAll(one.Probe, new(null, null)))
            .Where(reading => reading.Clock is ClockSource.Doubted or ClockSource.Overtaken).Select(reading => reading.Probe.Text);
        Assert.Equal(marked == "both" ? ["before", "after"] : [marked], doubted);
        Assert.DoesNotContain(store.Ledger.Alerts.OpenOrClosedSince(Instant.MinValue + Duration.FromDays(1)),
            alert => alert.Kind == AlertKind.SilentProbe);
    }

    // A connection for each: a broker takes a time that was skipped for a client's silence, and a client comes again.
    private async Task Publish(string probe, double celsius)
    {
        using var client = new MqttClientFactory().CreateMqttClient();
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).Build(),
            TestContext.Current.CancellationToken);
        await client.PublishStringAsync($"chamber/{probe}/reading",
            string.Create(CultureInfo.InvariantCulture, $$"""{ "temperature": {{celsius}} }"""), MqttQualityOfServiceLevel.AtLeastOnce,
            cancellationToken: TestContext.Current.CancellationToken);
    }

    // It was down for a day; until then both probes spoke.
    private void WriteHome()
    {
        folder.Write("chamber.json",
            $$"""{ "home": { "zone": "UTC" }, "broker": { "listen": [{ "port": {{port}} }] }, "page": { "on": false } }""");
        using var store = ChamberStore.Open(folder.File("chamber.db"));
        var alive = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow()) - Duration.FromDays(1);
        store.Ledger.Settings.Set("service.alive", NodaTime.Text.InstantPattern.ExtendedIso.Format(alive));
        foreach (var (probe, spot) in Home)
        {
            store.Ledger.SetUp.Save(new Spot(spot, SpotKind.HeatMat, LightLevel.Dim, 2));
            store.Ledger.SetUp.Save(new ProbeEntry(new(probe, Measurand.Media, Duration.FromHours(2))));
            store.Ledger.SetUp.Put(probe, spot, alive - Duration.FromMinutes(1));
            store.Journal.Append([new(probe, alive, alive, Temperature.FromCelsius(24))], []);
        }
    }
}
