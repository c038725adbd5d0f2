using System.Diagnostics.Metrics;
using Chamber.Core.Climate;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Telemetry;

/// <summary>The last reading of each probe that was set up, for whoever scrapes and keeps no mirror. Read once for all that one scrape
/// asks; at most as many probes as <c>limits.probes</c> allows.</summary>
internal sealed class ProbeGauges(ChamberStore store, TimeProvider clock)
{
    private static readonly Duration Kept = Duration.FromSeconds(1);

    private readonly Lock gate = new();
    private (IReadOnlyList<Known> Probes, Instant At)? lately;

    public void Add(Meter meter)
    {
        meter.CreateObservableGauge("chamber.probe.last_reading.timestamp",
            () => Of(known => known.Latest.MeasuredAt.ToUnixTimeMilliseconds() / 1000.0), "s",
            "When a probe measured last, as seconds since 1970.");
        meter.CreateObservableGauge("chamber.probe.silence_limit",
            () => Of(known => known.Entry.HandRead ? null : known.Entry.Probe.MaxGap.TotalSeconds), "s",
            "Longer than this a probe should not be silent; not of one that is read by hand.");
        meter.CreateObservableGauge("chamber.probe.temperature", () => Of(known => Fresh(known, known.Latest.Temperature)?.Celsius), "Cel",
            "Temperature as the probe reported it last; gone once the probe is silent.");
        meter.CreateObservableGauge("chamber.probe.humidity", () => Of(known => Fresh(known, known.Latest.Humidity)?.Percent), "%",
            "Relative humidity, likewise.");
        meter.CreateObservableGauge("chamber.probe.moisture_raw", () => Of(known => Fresh(known, known.Latest.Moisture)), null,
            "Media moisture on the probe's own scale, likewise.");
        meter.CreateObservableGauge("chamber.probe.battery", () => Of(known => Fresh(known, known.Latest.Battery)), "%",
            "Battery, likewise.");
    }

    private Instant Now => Instant.FromDateTimeOffset(clock.GetUtcNow());

    private T? Fresh<T>(Known known, Dated<T>? value)
        where T : struct => value is { } dated && Now - dated.At <= known.Entry.Probe.MaxGap ? dated.Value : null;

    private IEnumerable<Measurement<double>> Of(Func<Known, double?> ask) =>
        from known in Probes()
        let value = ask(known)
        where value is not null
        select new Measurement<double>(value.Value, new KeyValuePair<string, object?>("probe", known.Entry.Probe.Id.Text),
            new KeyValuePair<string, object?>("spot", known.Spot));

    private IReadOnlyList<Known> Probes()
    {
        lock (gate)
        {
            if (lately is not { } read || Now - read.At > Kept || Now < read.At)
            {
                lately = read = (Read(), Now);
            }

            return read.Probes;
        }
    }

    private List<Known> Read()
    {
        var now = Now;
        var entries = store.Ledger.SetUp.Probes().ToDictionary(entry => entry.Probe.Id);
        var spots = store.Ledger.SetUp.Stations().Where(station => station.When.Contains(now))
            .ToDictionary(station => station.Probe, station => station.Spot.Text);
        return [.. store.Journal.Latest(now).Where(latest => entries.ContainsKey(latest.Probe))
            .Select(latest => new Known(entries[latest.Probe], latest, spots.GetValueOrDefault(latest.Probe, string.Empty)))];
    }

    private sealed record Known(ProbeEntry Entry, LatestReading Latest, string Spot);
}
