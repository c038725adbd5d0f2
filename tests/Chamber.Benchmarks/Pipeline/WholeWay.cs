using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Mqtt.Connection;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Intake;
using Chamber.Storage;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;

namespace Chamber.Benchmarks.Pipeline;

/// <summary>Chamber's whole way: decode, check, commit, then fold warm-hours and alerts, then acknowledge.</summary>
internal static class WholeWay
{
    public static async Task Run(int port, string clientId, int messages, string database, Durability durability)
    {
        using var store = ChamberStore.Open(database, new() { Readings = durability });
        var tallies = new Tallies();
        var watch = new HomeWatch(new());
        var meter = new Outcome.Meter();
        using var done = new CancellationTokenSource();
        var intake = new ReadingIntake(
            new(TopicMap.Default),
            (batch, _) =>
            {
                store.Journal.Append(batch.Readings, batch.Refusals, batch.LastKnown);
                tallies.Take(batch.Readings);
                watch.Step(batch.Readings, SystemClock.Instance.GetCurrentInstant());
                return ValueTask.CompletedTask;
            },
            TimeProvider.System,
            NullLogger<ReadingIntake>.Instance);
        var address = new BrokerAddress { Port = port, ClientId = clientId, Version = MqttVersion.V311 };
        var subscriber = new Subscriber(address, TopicMap.Default, intake, TimeProvider.System, new Random(1),
            NullLogger<Subscriber>.Instance);
        var working = Task.WhenAll(intake.RunAsync(done.Token), subscriber.RunAsync(done.Token));
        while (intake.Metrics.Received == 0)
        {
            await Task.Delay(TimeSpan.FromMilliseconds(1), TimeProvider.System);
        }

        meter.Start();
        while (intake.Metrics.Committed < messages)
        {
            await Task.Delay(TimeSpan.FromMilliseconds(2), TimeProvider.System);
        }

        meter.Print(messages, () => store.Journal.Size().Readings);
        await done.CancelAsync();
        await working;
    }

    /// <summary>Warm-hours of a crop for each probe.</summary>
    internal sealed class Tallies
    {
        private readonly Crop tomato = CropCatalog.Shipped.Require("tomato");
        private readonly Dictionary<ProbeId, WarmthTally> tallies = [];

        public void Take(IReadOnlyList<Reading> readings)
        {
            for (var i = 0; i < readings.Count; i++)
            {
                var reading = readings[i];
                if (!tallies.TryGetValue(reading.Probe, out var tally))
                {
                    tallies[reading.Probe] = tally = new(tomato.Limits, Probe.DefaultMaxGap);
                }

                if (reading.Temperature is { } temperature)
                {
                    tally.Add(reading.MeasuredAt, temperature);
                }
            }
        }
    }
}
