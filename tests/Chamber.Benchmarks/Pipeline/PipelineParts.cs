using System.Text;
using Chamber.Core.Alerts.Watching;
using Chamber.Mqtt.Decoding;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Benchmarks.Pipeline;

/// <summary>Where the processor time of the whole way goes: each part alone, over the same messages, without a broker.</summary>
internal static class PipelineParts
{
    private const int Batch = 2000;

    /// <param name="arguments">Messages (600,000 by default).</param>
    public static void Run(string[] arguments)
    {
        var count = arguments is [var text, ..] ? int.Parse(text, System.Globalization.CultureInfo.InvariantCulture) : 600_000;
        var now = SystemClock.Instance.GetCurrentInstant();
        var messages = Load.Messages(count, now.ToDateTimeOffset())
            .Select(message => new IncomingMessage(Encoding.ASCII.GetString(message.Topic), message.Payload, false, now))
            .ToList();
        var batches = new List<DecodedBatch>();
        for (var round = 0; round < 2; round++)
        {
            batches.Clear();
            Measure.Rate("decode and check", () => Decode(messages, batches));
            Measure.Rate("warm-hours", () => Tally(batches));
            Measure.Rate("watch", () => Watch(batches, now));
            foreach (var durability in Enum.GetValues<Durability>())
            {
                Measure.Rate($"commit, survives {durability}", () => Commit(batches, durability));
            }
        }
    }

    private static long Decode(List<IncomingMessage> messages, List<DecodedBatch> batches)
    {
        var decoder = new MessageDecoder(TopicMap.Default);
        foreach (var chunk in messages.Chunk(Batch))
        {
            var batch = new DecodedBatch();
            foreach (var message in chunk)
            {
                decoder.Decode(message, batch);
            }

            batches.Add(batch);
        }

        return messages.Count;
    }

    private static long Tally(List<DecodedBatch> batches)
    {
        var fold = new WholeWay.Tallies();
        foreach (var batch in batches)
        {
            fold.Take(batch.Readings);
        }

        return batches.Sum(batch => batch.Readings.Count);
    }

    private static long Watch(List<DecodedBatch> batches, Instant now)
    {
        var watch = new HomeWatch(new());
        foreach (var batch in batches)
        {
            watch.Step(batch.Readings, now);
        }

        return batches.Sum(batch => batch.Readings.Count);
    }

    private static long Commit(List<DecodedBatch> batches, Durability durability)
    {
        using var folder = new TempFolder();
        using var store = ChamberStore.Open(folder.File("chamber.db"), new() { Readings = durability });
        foreach (var batch in batches)
        {
            store.Journal.Append(batch.Readings, batch.Refusals, batch.LastKnown);
        }

        return batches.Sum(batch => batch.Readings.Count);
    }
}
