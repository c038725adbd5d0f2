using System.Diagnostics;
using Chamber.Core.Alerts;
using Chamber.Core.Climate;
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
        var fold = new Fold();
        var watch = new Stopwatch();
        using var done = new CancellationTokenSource();
        var committed = 0;
        var intake = new ReadingIntake(
            new(TopicMap.Default),
            (batch, _) =>
            {
                watch.Start();
                store.Journal.Append(batch.Readings, batch.Refusals, batch.LastKnown);
                fold.Take(batch.Readings);
                committed += batch.Messages;
                return ValueTask.CompletedTask;
            },
            TimeProvider.System,
            NullLogger<ReadingIntake>.Instance);
        var address = new BrokerAddress { Port = port, ClientId = clientId, Version = MqttVersion.V311 };
        var subscriber = new Subscriber(address, TopicMap.Default, intake, TimeProvider.System, new Random(1), NullLogger<Subscriber>.Instance);
        var working = Task.WhenAll(intake.RunAsync(done.Token), subscriber.RunAsync(done.Token));
        while (intake.Metrics.Received == 0)
        {
            await Task.Delay(TimeSpan.FromMilliseconds(1), TimeProvider.System);
        }

        watch.Start();
        while (intake.Metrics.Committed < messages)
        {
            await Task.Delay(TimeSpan.FromMilliseconds(2), TimeProvider.System);
        }

        var took = watch.Elapsed;
        await done.CancelAsync();
        await working;
        Outcome.Print(messages, took, store.Journal.Size().Readings);
    }

    /// <summary>Warm-hours of a crop for each probe, and the watch over the home.</summary>
    private sealed class Fold
    {
        private readonly Crop tomato = CropCatalog.Shipped.Require("tomato");
        private readonly Dictionary<ProbeId, WarmthTally> tallies = [];
        private readonly HomeWatch watch = new(new());

        public void Take(IReadOnlyList<Reading> readings)
        {
            foreach (var reading in readings)
            {
                if (!tallies.TryGetValue(reading.Probe, out var tally))
                {
                    tallies[reading.Probe] = tally = new(new(tomato.Profile.Cardinals, tomato.CoolLimit, tomato.HotLimit), Probe.DefaultMaxGap);
                }

                if (reading.Temperature is { } temperature)
                {
                    tally.Add(reading.MeasuredAt, temperature);
                }
            }

            watch.Step(readings, SystemClock.Instance.GetCurrentInstant());
        }
    }
}
