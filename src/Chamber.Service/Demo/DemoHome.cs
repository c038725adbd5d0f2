using System.Text.Json;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Simulation;
using Chamber.Mqtt.Decoding;
using Chamber.Service.Configuration;
using Chamber.Storage;
using Chamber.Storage.Writing;
using NodaTime;

namespace Chamber.Service.Demo;

/// <summary>Writes the shared flat into a fresh data directory: settings, spots, two weeks of readings through the decoder, batches with
/// their looks.</summary>
internal sealed class DemoHome(DataDirectory data, Settings settings, Instant opens, DateTimeZone zone, int seed)
{
    /// <summary>Who lives in the flat, and wrote down what the demo begins with.</summary>
    public static readonly Author Flatmate = new("flatmate", WriteWay.Page);

    private static readonly Duration CommitEvery = Duration.FromHours(6);

    /// <summary>Writes the settings of a demo where those of a home are.</summary>
    public static void Write(DataDirectory data, Settings settings)
    {
        data.Make();
        File.WriteAllText(data.Settings, JsonSerializer.Serialize(settings, SettingsText.Options));
    }

    /// <summary>Backfills, and returns the story, which goes on from <c>opens</c>.</summary>
    /// <param name="progress">Told the share that is done, 0 to 1.</param>
    /// <param name="cancel">Stops between two commits.</param>
    public FlatStory Furnish(Action<double> progress, CancellationToken cancel)
    {
        data.Make();
        // The demo's history can be made again, so it need not wait for the disk.
        using var store = ChamberStore.Open(data.Database, new() { Readings = Durability.ProcessEnd });
        var story = new FlatStory(opens, zone, seed, CropCatalog.Shipped);
        var looks = Backfill(store, story, progress, cancel);
        IReadOnlyList<Batch> batches =
        [
            .. SharedFlat.Batches.Select(design =>
                FlatBatches.Of(design, opens, [.. looks.Where(look => look.Batch == design.Id).Select(look => look.Look)])),
            .. FlatGrownBatches.Of(opens),
        ];
        SetUp(store.Ledger.By(Flatmate, batches.Min(batch => batch.SownAt)), story.Begins);
        WriteDown(store, batches);
        var ledger = store.Ledger.By(Flatmate, opens);
        foreach (var test in FlatSeedBox.Tests(opens))
        {
            ledger.Seeds.Record(test);
        }

        foreach (var (batch, days) in SharedFlat.PlantingOut.Concat(FlatGrownBatches.PlantingOut))
        {
            ledger.Batches.PlantOut(batch, opens.InZone(zone).Date.PlusDays(days), zone);
        }

        return story;
    }

    private void SetUp(HomePen ledger, Instant since)
    {
        foreach (var spot in SharedFlat.Spots)
        {
            ledger.SetUp.Save(spot);
        }

        foreach (var probe in SharedFlat.Probes)
        {
            ledger.SetUp.Save(new ProbeEntry(probe.Probe));
            ledger.SetUp.Put(probe.Probe.Id, probe.Spot, since);
        }

        foreach (var lot in FlatSeedBox.Lots(since, opens.InZone(zone).Year))
        {
            ledger.Seeds.Save(lot);
        }
    }

    // On the evening of each day, as people do it: so the flat can be asked what was known earlier.
    private void WriteDown(ChamberStore store, IReadOnlyList<Batch> batches)
    {
        foreach (var day in batches.SelectMany(BatchFacts.Of).GroupBy(fact => fact.At.InZone(zone).Date).OrderBy(day => day.Key))
        {
            store.Home.Append(Flatmate, day.Max(fact => fact.At), [.. day]);
        }
    }

    private List<(BatchId Batch, Look Look)> Backfill(ChamberStore store, FlatStory story, Action<double> progress,
        CancellationToken cancel)
    {
        var decoder = new MessageDecoder(TopicMap.Create(settings.Mappings));
        var decoded = new DecodedBatch();
        List<(BatchId, Look)> looks = [];
        var commitAt = story.Begins + CommitEvery;
        for (var at = story.Begins; at < opens;)
        {
            var minute = story.Next();
            at = minute.At;
            looks.AddRange(minute.Looks);
            foreach (var said in minute.Said.Where(said => said.At <= opens))
            {
                var message = DemoMessages.Of(said);
                decoder.Decode(new(message.Topic, message.Bytes, Retained: false, said.At), decoded);
            }

            if (at >= commitAt || at >= opens)
            {
                cancel.ThrowIfCancellationRequested();
                store.Journal.Append(decoded.Readings, decoded.Refusals, decoded.LastKnown);
                decoded = new();
                commitAt += CommitEvery;
                progress((at - story.Begins) / FlatStory.History);
            }
        }

        return looks;
    }
}
