using System.Text;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Lots;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Core.Simulation;
using Chamber.Mqtt.Decoding;
using Chamber.Storage.Writing;
using NodaTime;

namespace Chamber.Club.Demo;

/// <summary>One of the invented homes: the simulated flat with its own weather, probes and seed. Two weeks of it are there when it opens,
/// one reading in half an hour of each probe; then it goes on as a flat does.</summary>
internal sealed class DemoHome(string name, int seed, Instant opens)
{
    // Every probe speaks in such a minute.
    private const int KeptEvery = 30;
    private static readonly Author Member = new("member", WriteWay.Page);

    private readonly FlatStory story = new(opens, DateTimeZone.Utc, seed, CropCatalog.Shipped);

    public string Name => name;

    /// <summary>What its probes say in the next minute, as messages.</summary>
    public IEnumerable<(Instant At, string Topic, string Payload)> Next() =>
        story.Next().Said.Select(said => (said.At, $"homes/{name}/{TopicOf(said)}", PayloadOf(said)));

    /// <summary>Writes down what is there when it opens.</summary>
    public async Task FillAsync(IHomeStore store, CancellationToken cancel)
    {
        var decoded = new DecodedBatch();
        var looks = Past(decoded);
        var begins = story.Begins - Duration.FromDays(1);
        DatedFact[] facts =
        [
            .. SharedFlat.Spots.Select(spot => new SpotSetUp(spot.Id, spot.Kind, spot.Light, spot.Room).At(begins)),
            .. SharedFlat.Probes.Select(one => new ProbeSetUp(one.Probe.Id, one.Probe.Measurand, one.Probe.MaxGap).At(begins)),
            .. SharedFlat.Probes.Select(one => new ProbePlaced(one.Probe.Id, one.Spot).At(begins)),
            .. FlatSeedBox.Lots(begins, opens.InUtc().Year).Select(lot => LotNoted.Between(null, lot, begins)),
            .. SharedFlat.Batches.SelectMany(design => BatchFacts.Of(FlatBatches.Of(design, opens, looks[design.Id]))),
        ];
        await store.WriteAsync(Member, opens, _ => facts, cancel);
        await store.AppendAsync(decoded.Readings, decoded.Refusals, decoded.LastKnown, cancel);
    }

    private Dictionary<BatchId, List<Look>> Past(DecodedBatch into)
    {
        var decoder = new MessageDecoder(TopicMap.Default);
        var looks = SharedFlat.Batches.ToDictionary(design => design.Id, _ => new List<Look>());
        for (var at = story.Begins; at < opens;)
        {
            var passed = story.Next();
            at = passed.At;
            foreach (var (batch, look) in passed.Looks)
            {
                looks[batch].Add(look);
            }

            var isKept = (at - story.Begins).TotalMinutes % KeptEvery == 0;
            foreach (var said in passed.Said.Where(said => isKept && said.At <= opens))
            {
                decoder.Decode(new(TopicOf(said), Encoding.UTF8.GetBytes(PayloadOf(said)), Retained: false, said.At), into);
            }
        }

        return looks;
    }

    private static string TopicOf(in ProbeSaid said) => $"chamber/{said.Probe}/reading";

    private static string PayloadOf(in ProbeSaid said) =>
        OwnPayload.Of(said.At, said.Celsius, said.HumidityPercent, said.Moisture, said.BatteryPercent);
}
