using System.Text;
using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>A million messages of random and of spoilt bytes: none may throw, every one is accounted for, and memory stays bounded. How
/// many messages must be good is the program's own.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class DecoderFuzzTests
{
    private const int Messages = 1_000_000;
    private const int Seed = 20261125;

    private static readonly byte[][] Samples =
    [
        .. new[]
        {
            """{"temperature": 21.5, "humidity": 63, "moisture": 512, "battery": 87, "at": "2026-11-25T10:00:00Z"}""",
            """{"a": [{"t": 70.5}, {"h": "55"}], "when": 1795600740}""",
            """[{"bn": "dev:mat", "bt": 1795600740, "bu": "Cel", "v": 20}, {"t": -60, "v": 21}, {"u": "%RH", "v": 55}]""",
            "21.5",
            "unavailable",
        }.Select(Encoding.UTF8.GetBytes),
    ];

    private static readonly string[] Topics = ["chamber/shelf/reading", "json/flat/shelf", "senml", "number/shelf",
        "chamber/two words/reading", "nowhere"];

    [Fact]
    public void No_message_throws_and_every_one_is_accounted_for()
    {
        var random = new Random(Seed);
        var decoder = Decoding.With(
            new TopicMapping { Topic = "json/+/{probe}", Form = PayloadForm.Json, Temperature = new("/a/0/t", "[degF]"),
                Humidity = new("/a/1/h", "%"), Time = new("/when", TimeForm.EpochSeconds) },
            new TopicMapping { Topic = "senml", Form = PayloadForm.Senml,
                Names = new Dictionary<string, SenmlName> { ["dev:{probe}"] = new() } },
            new TopicMapping { Topic = "number/{probe}", Form = PayloadForm.Number, Quantity = Quantity.Temperature, Unit = "Cel" });
        var batch = new DecodedBatch();
        long readings = 0;
        long lastKnown = 0;
        var silent = 0;
        for (var count = 0; count < Messages; count++)
        {
            var (readingsBefore, lastKnownBefore, refusalsBefore) = (batch.Readings.Count, batch.LastKnown.Count, batch.Refusals.Count);
            decoder.Decode(new(Topics[random.Next(Topics.Length)], Payload(random), random.Next(4) == 0,
                Decoding.Now + Duration.FromSeconds(count)), batch);
            silent += batch.Readings.Count == readingsBefore && batch.LastKnown.Count == lastKnownBefore
                && batch.Refusals.Count == refusalsBefore ? 1 : 0;
            Assert.All(batch.Refusals.Skip(refusalsBefore),
                refusal => Assert.True(refusal.Raw.Length <= Refusal.RawLengthMax && refusal.Fix.Length > 0));
            if (batch.Messages == 1000)
            {
                readings += batch.Readings.Count;
                lastKnown += batch.LastKnown.Count;
                batch.Clear();
            }
        }

        Assert.Equal(0, silent);
        Assert.Equal(Messages, decoder.Messages);
        Assert.Equal(decoder.Readings, readings);
        Assert.True(readings > Messages / 20, $"Only {readings} readings: the fuzz no longer reaches the good paths (seed {Seed}).");
        Assert.True(lastKnown > 0);
        Assert.All(
            new[] { RefusalReason.Malformed, RefusalReason.Missing, RefusalReason.UnknownTopic, RefusalReason.UnknownProbe,
                RefusalReason.RetainedWithoutTime, RefusalReason.Impossible },
            reason => Assert.True(decoder.Refused[reason] > 0, $"No message was refused as {reason} (seed {Seed})."));
    }

    private static byte[] Payload(Random random)
    {
        if (random.Next(10) == 0)
        {
            var noise = new byte[random.Next(64)];
            random.NextBytes(noise);
            return noise;
        }

        var payload = (byte[])Samples[random.Next(Samples.Length)].Clone();
        for (var spoil = random.Next(3); spoil > 0; spoil--)
        {
            payload[random.Next(payload.Length)] = (byte)random.Next(256);
        }

        return random.Next(8) == 0 ? payload[..random.Next(payload.Length)] : payload;
    }
}
